import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readLearned } from '../../src/commands/learned.js';
import { keepLessons } from '../../src/commands/set-up/keep-lessons.js';
import { rememberUsed } from '../../src/commands/set-up/remember-used.js';
import { readJob } from '../../src/core/job-file.js';
import type { Press } from '../../src/core/press.js';
import { readPress } from '../../src/core/press-file.js';
import type { RecordBody } from '../../src/core/record.js';
import type { Result } from '../../src/core/result.js';
import { knobOf } from '../../src/core/run/knob-of.js';
import type { RunState } from '../../src/core/run/state.js';
import { openRun } from '../../src/runtime.js';
import { createRun } from '../../src/store/run-folder.js';
import { JOB_TEXT, PRESS_TEXT } from '../core/example-files.js';
import { tempFolder } from '../store/temp-folder.js';
import { reading } from '../support/reading.js';

const must = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(result.problem.message);
  return result.value;
};

const check = (number: number, web_m: number, along_mm: number): RecordBody => ({
  type: 'check',
  check: number,
  web_m,
  roll: null,
  pulled_at: null,
  source: 'keyed',
  place: null,
  readings: [reading('3', { along_mm, across_mm: 0 })],
});

const measured = (division_mm: number, sense: 1 | -1): RecordBody => ({
  type: 'knob',
  station: '3',
  axis: 'along',
  division_mm,
  sense,
  divisions: 10,
  before_check: 1,
  after_check: 2,
  web_m: 110,
});

/** A run on a press file in the data folder, or elsewhere; records go in, then what it taught is kept as when the board is left. */
const begun = async (place: (data: string) => string, runs: { readonly data?: string; readonly run?: string } = {}) => {
  const data = runs.data ?? tempFolder();
  const path = place(data);
  mkdirSync(join(path, '..'), { recursive: true });
  if (runs.data === undefined) writeFileSync(path, PRESS_TEXT);
  const press = must(readPress(readFileSync(path, 'utf8'), path));
  const job = must(readJob(JOB_TEXT, 'j', press));
  const { learned, said } = must(await readLearned(data, press, job));
  const run = runs.run ?? 'a';
  const runtime = must(
    await openRun(must(createRun(data, run)), {
      operator: 'MK',
      first: {
        type: 'begin',
        run,
        press,
        job,
        rules: 1,
        program: 'test',
        time_zone: 'UTC',
        ...(learned === null ? {} : { learned }),
      },
    }),
  );
  must(
    await rememberUsed(data, run, { press: press.name, job: job.name }, { press: path, job: 'job.json' }, new Date()),
  );
  const put = async (...bodies: readonly RecordBody[]): Promise<readonly number[]> => {
    const seqs: number[] = [];
    for (const body of bodies) seqs.push(must(await runtime.submit(body)).seq);
    return seqs;
  };
  const keep = () => keepLessons(data, runtime.state());
  return { data, path, said, put, keep, state: () => runtime.state(), close: () => runtime.close() };
};

const ours = (data: string): string => join(data, 'setup', 'press-line-b.json');
const knobOf3 = (state: RunState) => {
  const station = state.press.stations.find(({ id }) => id === '3');
  return station === undefined ? null : knobOf(state.judged, station, 'along');
};
const inFile = (path: string): Press['stations'][number]['knobs']['along'] | undefined =>
  must(readPress(readFileSync(path, 'utf8'), path)).stations.find(({ id }) => id === '3')?.knobs.along;

describe('a knob measured in a run', () => {
  it('goes into the press file that the set-up wrote, hand and all, and nothing else of it changes', async () => {
    const run = await begun(ours);
    expect(await run.keep()).toEqual([]);
    await run.put(check(1, 100, 0), check(2, 130, -0.3), measured(0.03, -1));
    const said = await run.keep();
    expect(said).toEqual([
      `written into ${run.path}: station "3", {"along":{"division_mm":0.03,"sense":-1,"to_advance":"anticlockwise"}}`,
    ]);
    expect(inFile(run.path)).toMatchObject({ division_mm: 0.03, sense: -1, hand_plus: 'anticlockwise' });
    const [was, now] = [JSON.parse(PRESS_TEXT), JSON.parse(readFileSync(run.path, 'utf8'))];
    delete now.stations[2].along;
    expect(now).toEqual(was);
    expect(await run.keep()).toEqual([]);
    await run.close();
    // Tomorrow's run has it from its press file.
    const next = await begun(ours, { data: run.data, run: 'b' });
    expect(next.said).toEqual([]);
    expect(knobOf3(next.state())).toMatchObject({ division_mm: 0.03, sense: -1 });
    expect(next.state().judged.measured_knobs).toEqual({});
    await next.close();
  });

  it('measured again in the same run the file follows, and taken back it says what it said before', async () => {
    const run = await begun(ours);
    await run.put(check(1, 100, 0), check(2, 130, 0.3));
    const [first = 0] = await run.put(measured(0.03, 1));
    await run.keep();
    const [second = 0] = await run.put(measured(0.031, 1));
    await run.keep();
    expect(inFile(run.path)?.division_mm).toBe(0.031);
    await run.put({ type: 'withdraw', check: null, entry: second, web_m: null });
    await run.keep();
    expect(inFile(run.path)?.division_mm).toBe(0.03);
    await run.put({ type: 'withdraw', check: null, entry: first, web_m: null });
    await run.keep();
    expect(inFile(run.path)).toMatchObject({ division_mm: 0.05, sense: 1 });
    await run.close();
  });

  it('what somebody wrote into the file meanwhile stands', async () => {
    const run = await begun(ours);
    await run.put(check(1, 100, 0), check(2, 130, 0.3), measured(0.03, 1));
    writeFileSync(
      run.path,
      PRESS_TEXT.replace(
        '"id": "3", "kind": "print", "at_m": 3.9',
        '"id": "3", "kind": "print", "at_m": 3.9, "along": { "division_mm": 0.04 }',
      ),
    );
    expect(await run.keep()).toEqual([]);
    expect(inFile(run.path)?.division_mm).toBe(0.04);
    await run.close();
  });

  it('a press file that is not ours is not touched: what to write is said, and the next run goes by it all the same', async () => {
    const elsewhere = (data: string): string => join(data, '..', `${data.split('/').at(-1)}-press`, 'press.json');
    const run = await begun(elsewhere);
    await run.put(check(1, 100, 0), check(2, 130, 0.3), measured(0.03, 1));
    const said = await run.keep();
    expect(said[0]).toContain('should say it: station "3", {"along":{"division_mm":0.03,"sense":1}}');
    expect(readFileSync(run.path, 'utf8')).toBe(PRESS_TEXT);
    await run.close();
    const next = await begun(elsewhere, { data: run.data, run: 'b' });
    expect(next.said[0]).toContain('the knob of station 3 along was measured; the run goes by that.');
    expect(knobOf3(next.state())).toMatchObject({ division_mm: 0.03, sense: 1, sense_given: true });
    await next.close();
    // Once the file says it, nothing is said any more.
    const text = PRESS_TEXT.replace(
      '"id": "3", "kind": "print", "at_m": 3.9',
      '"id": "3", "kind": "print", "at_m": 3.9, "along": { "division_mm": 0.03, "sense": 1 }',
    );
    writeFileSync(run.path, text);
    const last = await begun(elsewhere, { data: run.data, run: 'c' });
    expect(last.said).toEqual([]);
    await last.close();
  });
});
