import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readLearned, saveLearned } from '../../src/commands/learned.js';
import { catchUp } from '../../src/commands/set-up/catch-up.js';
import { rememberUsed } from '../../src/commands/set-up/remember-used.js';
import { slug } from '../../src/commands/set-up/setup-file.js';
import { knownOf } from '../../src/core/adjust/response.js';
import { readJob } from '../../src/core/job-file.js';
import { readPress } from '../../src/core/press-file.js';
import type { RecordBody, StationReading } from '../../src/core/record.js';
import { fail, ok, type Result } from '../../src/core/result.js';
import type { RunState } from '../../src/core/run/state.js';
import { openState } from '../../src/runtime/open-state.js';
import { openRun } from '../../src/runtime.js';
import { createRun } from '../../src/store/run-folder.js';
import { openShop } from '../../src/store/shop.js';
import { JOB_TEXT, PRESS_TEXT } from '../core/example-files.js';
import { tempFolder } from '../store/temp-folder.js';

const must = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(result.problem.message);
  return result.value;
};

const asResult = <T>(value: T | undefined): Result<T> => (value === undefined ? fail('nothing there') : ok(value));

const press = must(readPress(PRESS_TEXT, 'p'));
const job = must(readJob(JOB_TEXT, 'j', press));

const reading = (station: string, along_mm: number, plate: StationReading['plate'] = null): StationReading => ({
  station,
  along_mm,
  across_mm: 0,
  look: null,
  edge: null,
  plate,
  flaws: null,
  labels: null,
});

const check = (number: number, web_m: number, readings: readonly StationReading[]): RecordBody => ({
  type: 'check',
  check: number,
  web_m,
  roll: null,
  pulled_at: null,
  source: 'keyed',
  place: null,
  readings,
});

/** Station 2 is turned again and again by 0.10 mm and follows by half of it. */
const TURNS: readonly RecordBody[] = [
  check(
    1,
    0,
    ['2', '3', 'D'].map((id) => reading(id, 0, id === 'D' ? null : 'clean')),
  ),
  { type: 'ok', web_m: 0, zero_m: null, passed_by: 'MK', check: 1, hold_to: 'aim' },
  ...[1, 2, 3, 4].flatMap((n): readonly RecordBody[] => [
    { type: 'correction', station: '2', axis: 'along', move_mm: 0.1, teeth: null, divisions: 5, web_m: 1000 * n },
    check(n + 1, 1000 * n + 500, [reading('2', 0.05 * n, 'clean'), reading('3', 0, 'clean'), reading('D', 0)]),
  ]),
];

const ranOn = async (
  data: string,
  run: string,
  at: string,
  more: readonly RecordBody[],
  learned?: object,
): Promise<RunState> => {
  const folder = must(createRun(data, run));
  const first = {
    type: 'begin',
    run,
    press,
    job,
    rules: 1,
    program: 'test',
    time_zone: 'UTC',
    ...(learned === undefined ? {} : { learned }),
  } as const;
  const runtime = must(await openRun(folder, { operator: 'MK', first, now: () => Date.parse(at) }));
  for (const body of more) must(await runtime.submit(body));
  await runtime.close();
  return runtime.state();
};

const recalled = async (data: string, onPress = press, onJob = job) => must(await readLearned(data, onPress, onJob));

describe('what a run taught goes to the next', () => {
  it('knobs and plates, and the log alone then judges the same', async () => {
    const data = tempFolder();
    expect(await recalled(data)).toEqual({ learned: null, said: [] });
    const first = await ranOn(data, 'a', '2026-03-02T09:00:00.000Z', TURNS);
    const turned = first.judged.knobs['2']?.along;
    expect(turned?.moves).toBe(4);
    must(await saveLearned(data, first));
    const { learned, said } = await recalled(data);
    expect(said).toEqual([]);
    expect(learned?.knobs?.['2']?.along).toEqual(turned);
    expect(learned?.knobs?.['2']?.across.moves).toBe(0);
    expect(Object.keys(learned?.knobs ?? {})).toEqual(['2']);
    expect(learned?.plates?.['2']?.lives.length).toBeGreaterThan(0);
    const known = knownOf(must(asResult(learned?.knobs?.['2']?.along)));
    expect(known.gain.plus).toBeLessThan(0.8);

    const second = await ranOn(data, 'b', '2026-03-03T09:00:00.000Z', [], learned ?? {});
    expect(second.judged.knobs['2']?.along).toEqual(turned);
    // The shop file may be lost: the log has it.
    rmSync(join(data, 'shop.json'));
    const again = must(openState(join(data, 'runs', 'b'), 'look')).state;
    expect(again?.judged.knobs['2']?.along).toEqual(turned);
    expect(again?.judged.plates.learned).toEqual(learned?.plates);
  });

  it('another job has the knobs but not the plates; another press has neither', async () => {
    const data = tempFolder();
    must(await saveLearned(data, await ranOn(data, 'a', '2026-03-02T09:00:00.000Z', TURNS)));
    const tin = await recalled(data, press, { ...job, name: 'tea tin' });
    expect([Object.keys(tin.learned?.knobs ?? {}), tin.learned?.plates]).toEqual([['2'], undefined]);
    expect((await recalled(data, { ...press, name: 'Line C' })).learned).toBeNull();
  });

  it('a knob of which the press file now says something else is learned anew', async () => {
    const data = tempFolder();
    must(await saveLearned(data, await ranOn(data, 'a', '2026-03-02T09:00:00.000Z', TURNS)));
    const changed = must(
      readPress(PRESS_TEXT.replace('"division_mm": 0.02, "sense": -1', '"division_mm": 0.01, "sense": -1'), 'p'),
    );
    const { learned, said } = await recalled(data, changed);
    expect(learned?.knobs).toBeUndefined();
    expect(said).toEqual([
      'the press file says something else of 2 along than when its knob was learned: it is learned anew',
    ]);
  });

  it('an old run that is looked at again does not undo a newer one', async () => {
    const data = tempFolder();
    const old = await ranOn(data, 'a', '2026-03-02T09:00:00.000Z', TURNS.slice(0, 4));
    must(await saveLearned(data, old));
    const next = await ranOn(data, 'b', '2026-03-03T09:00:00.000Z', TURNS, (await recalled(data)).learned ?? {});
    must(await saveLearned(data, next));
    must(await saveLearned(data, old));
    expect((await recalled(data)).learned?.knobs?.['2']?.along.moves).toBe(5);
  });

  it.each([
    'not json',
    '{}',
    '{"v":1,"run":"a","begun":"2026","sense":-1,"division_mm":0.02,"response":{"moves":1,"mean":[1,1],"cov":[1,0,0,0,1,0,0,0,1],"sense_log_odds":1,"last":1}}',
    '{"v":1,"run":"a","begun":"2026","sense":-1,"division_mm":0.02,"response":{"moves":1,"mean":[1,1,0],"cov":[-1,0,0,0,1,0,0,0,1],"sense_log_odds":1,"last":1}}',
    '{"v":1,"run":"a","begun":"2026","sense":-1,"division_mm":0.02,"response":{"moves":1,"mean":[1,1,1e999],"cov":[1,0,0,0,1,0,0,0,1],"sense_log_odds":1,"last":1}}',
    '{"v":2}',
  ])('an entry that is not right (%s) is left out and told; the others are used', async (json) => {
    const data = tempFolder();
    must(await saveLearned(data, await ranOn(data, 'a', '2026-03-02T09:00:00.000Z', TURNS)));
    const { shop } = must(await openShop(data));
    must(
      await shop.change(
        (old) => ({ ...old, learned: { ...old.learned, 'knob/Line B/2/along': { json } } }),
        new Date(),
      ),
    );
    const { learned, said } = await recalled(data);
    expect(learned?.knobs).toBeUndefined();
    expect(learned?.plates?.['2']).toBeDefined();
    expect(said).toEqual([
      'what the shop file says of knob/Line B/2/along cannot be read; it is left out and will be learned anew',
    ]);
  });

  it('names with strokes in them do not meet', async () => {
    const data = tempFolder();
    const named = (pressName: string, jobName: string) =>
      ({ press: { ...press, name: pressName }, job: { ...job, name: jobName } }) as const;
    const state = await ranOn(data, 'a', '2026-03-02T09:00:00.000Z', TURNS);
    must(await saveLearned(data, { ...state, ...named('A/B', 'C') }));
    expect((await recalled(data, { ...press, name: 'A' }, { ...job, name: 'B/C' })).learned).toBeNull();
    expect((await recalled(data, { ...press, name: 'A/B' }, { ...job, name: 'C' })).learned?.plates).toBeDefined();
  });
});

describe('the index of runs', () => {
  it('says what is open and what has ended, however the program before ended', async () => {
    const data = tempFolder();
    const files = { press: 'press.json', job: 'job.json' };
    const names = { press: press.name, job: job.name };
    await ranOn(data, 'a', '2026-03-02T09:00:00.000Z', TURNS);
    must(await rememberUsed(data, 'a', names, files, new Date('2026-03-02T09:00:00.000Z')));
    expect(must(await openShop(data)).shop.data().runs).toMatchObject([{ id: 'a', ended: null }]);
    // The run goes on and ends; the program is killed before it tells the shop file.
    const runtime = must(
      await openRun(join(data, 'runs', 'a'), { operator: 'MK', now: () => Date.parse('2026-03-02T12:00:00.000Z') }),
    );
    must(await runtime.submit({ type: 'end', web_m: 6000 }));
    await runtime.close();
    expect(await catchUp(data, press.name)).toEqual([]);
    const { runs } = must(await openShop(data)).shop.data();
    expect(runs).toMatchObject([{ id: 'a', press: 'Line B', job: 'plum jam lid', ended: '2026-03-02T12:00:00.000Z' }]);
    expect((await recalled(data)).learned?.knobs?.['2']?.along.moves).toBe(4);
    // Done once, it is not done again: nothing is written.
    const before = readFileSync(join(data, 'shop.json'), 'utf8');
    await catchUp(data, press.name);
    expect(readFileSync(join(data, 'shop.json'), 'utf8')).toBe(before);
  });

  it('a damaged newest run teaches nothing, and says so', async () => {
    const data = tempFolder();
    await ranOn(data, 'a', '2026-03-02T09:00:00.000Z', TURNS);
    const log = join(data, 'runs', 'a', 'log-0001.ndjson');
    const lines = readFileSync(log, 'utf8').split('\n');
    writeFileSync(log, [lines[0], String(lines[1]).replace('"keyed"', '"kayed"'), ...lines.slice(2)].join('\n'));
    rmSync(join(data, 'runs', 'a', 'checkpoint.json'), { force: true });
    const said = await catchUp(data, press.name);
    expect(said.join()).toMatch(/run a teaches nothing/);
  });

  it('a data folder with nothing in it is nothing to catch up with', async () => {
    const data = join(tempFolder(), 'none');
    expect(await catchUp(data, 'Line B')).toEqual([]);
    mkdirSync(data);
    expect(await catchUp(data, 'Line B')).toEqual([]);
  });
});

describe('names of files', () => {
  it.each([
    ['Line B', 'line-b'],
    ['plum jam/lid #2', 'plum-jam-lid-2'],
    ['../../etc/passwd', 'etc-passwd'],
    ['Pflaumenmus Döschen', 'pflaumenmus-doschen'],
    ['***', 'unnamed'],
    ['x'.repeat(80), 'x'.repeat(40)],
  ])('%s', (name, file) => expect(slug(name)).toBe(file));
});
