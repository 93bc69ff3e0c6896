import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readSetup } from '../../src/commands/read-setup.js';
import { readReadings } from '../../src/core/readings/read-readings.js';
import { fromLog, recordsToCsv } from '../../src/core/readings/records-to-csv.js';
import { replayRun } from '../../src/core/run/from-file.js';
import { SCENARIO } from '../../src/demo/scenario.js';
import { scriptedRun } from '../../src/demo/scripted-run.js';
import { holdreg, JOB, newData, onScreen, PRESS, ROOT } from './program.js';

const RUN = join(ROOT, 'demo-data/run.csv');
const VERDICTS = join(ROOT, 'demo-data/verdicts.ndjson');

type Line = Record<string, unknown> & { readonly type: string; readonly check: number };

const replayed = (file = RUN): readonly Line[] => {
  const said = holdreg(newData(), 'replay', '--press', PRESS, '--job', JOB, file, '--json');
  expect([said.code, said.err]).toEqual([0, '']);
  return said.out
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as Line);
};

/** What matters of a line, without figures that the last digit of a machine could change. */
const inShort = (line: Line): string => {
  const { type, check, id, event, severity, axis, cause, how, took, station, state } = line;
  const moves = (line.moves as readonly { station: string; turn: string; divisions: number }[] | undefined)?.map(
    (m) => `${m.station} ${m.turn} ${m.divisions}`,
  );
  return JSON.stringify({ check, type, id: id ?? event, severity, axis, cause, how, took, station, state, moves });
};

describe('the demo run', () => {
  it('is judged as its verdicts say', () => {
    const lines = replayed().map(inShort);
    if (process.env.UPDATE_GOLDEN === '1') writeFileSync(VERDICTS, `${lines.join('\n')}\n`);
    expect(lines).toEqual(readFileSync(VERDICTS, 'utf8').trim().split('\n'));
  });

  it('finds what really befell the press, and nothing else that is to be acted on', () => {
    const S = SCENARIO;
    const events = replayed().filter((l) => l.type === 'event');
    const first = (fits: (cause: { kind: string; station?: string }) => boolean): number =>
      events.find((e) => fits(e.cause as never))?.check ?? Number.NaN;
    expect(first((c) => c.kind === 'station' && c.station === S.slip.station)).toBe(S.slip.check);
    const reference = first((c) => c.kind === 'reference');
    expect(reference).toBeGreaterThan(S.reference.from);
    expect(reference).toBeLessThanOrEqual(S.reference.from + 6);
    const web = first((c) => c.kind === 'web');
    expect(web).toBeGreaterThan(S.tension.from);
    expect(web).toBeLessThanOrEqual(S.tension.from + 3);
    const knock = first((c) => c.kind === 'station' && c.station === S.knock.station);
    expect(knock).toBeGreaterThanOrEqual(S.knock.check);
    expect(knock).toBeLessThanOrEqual(S.knock.check + 2);
    const befell = ['reference', 'web', `station ${S.slip.station}`, `station ${S.knock.station}`];
    for (const e of events.filter((l) => l.severity !== 'note')) {
      const cause = e.cause as { kind: string; station?: string };
      expect(befell).toContain(cause.kind === 'station' ? `station ${cause.station}` : cause.kind);
    }
    const plate = replayed().find((l) => l.type === 'plate' && l.station === S.plate.station);
    expect(plate?.check).toBeGreaterThanOrEqual(S.plate.from);
    expect(plate?.check).toBeLessThanOrEqual(S.plate.washed);
  });

  it('replay of the written file says what the live run said', () => {
    const setup = readSetup(PRESS, JOB);
    if (!setup.ok) throw new Error(setup.problem.message);
    const { press, job } = setup.value;
    const live = scriptedRun(press, job);
    const csv = recordsToCsv(fromLog(live.records), 'demo');
    expect(csv).toBe(readFileSync(RUN, 'utf8'));
    const runs = readReadings(csv, 'run.csv', setup.value);
    if (!runs.ok) throw new Error(runs.problem.message);
    const again: unknown[] = [];
    for (const run of runs.value) replayRun(press, job, run, 'run.csv', ({ found }) => again.push(...found));
    expect(JSON.stringify(again)).toBe(JSON.stringify(live.found.flat()));
  });

  it('says the same for stations in any order within a check, and for many runs in one file', () => {
    const [head = '', ...rows] = readFileSync(RUN, 'utf8').trim().split(/\r?\n/);
    const turned: string[] = [];
    let block: string[] = [];
    const flush = (): void => {
      turned.push(...block.reverse());
      block = [];
    };
    for (const row of rows) {
      const cells = row.split(',');
      if (cells[5] !== 'reading' || (block[0] !== undefined && block[0].split(',')[1] !== cells[1])) flush();
      if (cells[5] === 'reading') block.push(row);
      else turned.push(row);
    }
    flush();
    const file = join(mkdtempSync(join(tmpdir(), 'holdreg-test-')), 'two.csv');
    writeFileSync(file, [head, ...turned, ...rows.map((r) => r.replace(/^demo,/, 'second,'))].join('\n'));
    const lines = replayed(file);
    const of = (run: string): string =>
      JSON.stringify(lines.filter((l) => l.run === run).map(({ run: _run, ...rest }) => rest));
    expect(of('second')).toBe(of('demo'));
    expect(lines.filter((l) => l.type === 'summary')).toHaveLength(2);
  });

  it('without a terminal it prints what it finds and the handover', () => {
    const said = holdreg(newData(), 'demo');
    expect([said.code, said.err]).toEqual([0, '']);
    expect(said.out).toMatch(/ACT 2: 1 opaque white \(the reference\)/);
    expect(said.out).toMatch(/HANDOVER/i);
  });

  it('in a terminal it plays on the board, and keys work', async () => {
    const board = onScreen(newData(), 'demo', '--speed', '2000', '--mute');
    await board.waitFor('plum jam lid');
    await board.waitFor(/reference.*(ahead|moved|drifting)/is, 60_000);
    board.type('?');
    await board.waitFor(/Sample pulled/);
    board.press('esc');
    board.type('q');
    await board.waitFor(/leave|quit/i);
    board.press('enter');
    expect((await board.exited).code).toBe(0);
  });

  it.each([
    ['a missing column', (text: string) => text.replace(/^run,check,time,web_m/, 'run,check,time'), /web_m/],
    ['NaN', (text: string) => text.replace('0.03', 'NaN'), /run\.csv.*NaN|NaN/],
    ['a number out of all bounds', (text: string) => text.replace(',0.03,', ',1e9,'), /1e9/],
    ['a station that is not on the press', (text: string) => text.replace(',reading,2,', ',reading,22,'), /22/],
    ['a web position that goes back', (text: string) => text.replace(/,9000,/g, ',900,'), /go forward/],
  ] as const)('%s is refused with file and line, and nothing is printed', (_what, spoil, words) => {
    const file = join(mkdtempSync(join(tmpdir(), 'holdreg-test-')), 'run.csv');
    const text = readFileSync(RUN, 'utf8');
    expect(spoil(text)).not.toBe(text);
    writeFileSync(file, spoil(text));
    const said = holdreg(newData(), 'replay', '--press', PRESS, '--job', JOB, file, '--json');
    expect([said.code, said.out]).toEqual([2, '']);
    expect(said.err).toMatch(words);
    expect(said.err).toMatch(/run\.csv/);
  });
});
