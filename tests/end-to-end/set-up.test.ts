import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readJob } from '../../src/core/job-file.js';
import { readPress } from '../../src/core/press-file.js';
import { openState } from '../../src/runtime/open-state.js';
import type { TestTerminal } from '../support/terminal.js';
import { holdreg, logOf, newData, onScreen, PRESS, runningPress } from './program.js';

/** Question by question: what must stand before the cursor, and what the operator types. */
const answer = async (screen: TestTerminal, talk: readonly (readonly [string, string])[]): Promise<void> => {
  for (const [question, typed] of talk) {
    await screen.waitFor((text) => text.trimEnd().split('\n').slice(-2).join(' ').includes(question));
    screen.type(`${typed}\r`);
  }
};

const PRESS_TALK = [
  ['What is the press called?', 'Line B'],
  ['Gear system', '1/8 in CP'],
  ['Print stations in web order', '3'],
  ['Is there a die', ''],
  ['After which print station', ''],
  ['can the die NOT be moved', ''],
  ['from one station to the next', '1.2'],
  ['from 3 to the die', '2'],
  ['where samples are pulled', '3.5'],
  ['Knobs turned while running', ''],
  ['move the print along', ''],
  ['move the print across', ''],
] as const;

const JOB_TALK = [
  ['What is the job called?', 'plum jam lid'],
  ['Ink on 1?', 'opaque white'],
  ['Ink on 2?', 'plum'],
  ['Ink on 3?', 'varnish'],
  ['die used', ''],
  ['have a mark that can be measured', 'all but 3'],
  ['3: can it be looked at', 'look'],
  ['Register is read in', ''],
  ['Web length is counted in', ''],
  ['print to print, along', '0.15'],
  ['print to print, across', ''],
  ['die to print, along', '0.4'],
  ['die to print, across', ''],
  ['Teeth of the printing repeat', '96'],
  ['side by side', '4'],
  ['around the repeat', '3'],
  ['Length of a finished roll', '2000'],
  ['each finished roll', ''],
  ['every so many m?', ''],
  ['every so many minutes?', ''],
  ['read against?', ''],
] as const;

const setupOf = (data: string): readonly string[] =>
  existsSync(join(data, 'setup')) ? readdirSync(join(data, 'setup')).toSorted() : [];

const leaveBoard = async (board: TestTerminal): Promise<void> => {
  board.type('q');
  await board.waitFor(/quit|leave/i);
  board.press('enter');
  expect((await board.exited).code).toBe(0);
  expect(board.alternate()).toBe(false);
};

/** A run set up by questions, left at the board. */
const setUpOnce = async (): Promise<string> => {
  const data = newData();
  const screen = onScreen(data, 'start', '--by', 'MK');
  await answer(screen, [...PRESS_TALK, ...JOB_TALK, ['Right? Enter', '']]);
  await screen.waitFor('make-ready');
  await leaveBoard(screen);
  return data;
};

describe('holdreg start with no files', () => {
  it('asks, with every mistake asked again, writes both files, says where, and opens the board', async () => {
    const data = newData();
    const screen = onScreen(data, 'start', '--by', 'MK');
    await answer(screen, [
      ['What is the press called?', ''],
      ['What is the press called?', 'Lime B'],
      ['Gear system', '<'],
      ['[Lime B]', 'Line B'],
      ['Gear system', '32 pitch'],
      ['Gear system', '1/8 in CP'],
      ['Print stations', '?'],
      ['Print stations', 'three'],
      ['Print stations', '3'],
      ['Is there a die', 'perhaps'],
      ...PRESS_TALK.slice(3, 6),
      ['from one station to the next', '1200'],
      ...PRESS_TALK.slice(6),
      ...JOB_TALK.slice(0, 9),
      ['print to print, along', '15'],
      ...JOB_TALK.slice(9),
      ['Right? Enter', '77'],
    ]);
    const screenfull = await screen.waitFor('"77" is neither Enter');
    expect(screenfull).toContain('Ink on 2: plum');
    expect(existsSync(join(data, 'setup'))).toBe(false);
    expect(existsSync(join(data, 'runs'))).toBe(false);
    for (const words of [
      'an answer is needed',
      '32 DP',
      'From the unwind to the rewind',
      'in digits',
      'neither yes nor no',
      'write mm',
      '0.15 mm or 15 mm',
    ])
      expect(screen.raw.replace(/\r?\n\s*/g, ' '), words).toContain(words);
    screen.type('\r');
    await screen.waitFor('2 plum');
    await leaveBoard(screen);
    expect(screen.screen()).toContain('press-line-b.json');
    expect(setupOf(data)).toEqual(['job-plum-jam-lid.json', 'press-line-b.json']);
    const press = readPress(readFileSync(join(data, 'setup/press-line-b.json'), 'utf8'), 'p');
    expect(press.ok && press.value.stations.map(({ id, at_m }) => [id, at_m])).toEqual([
      ['1', 1.2],
      ['2', 2.4],
      ['3', 3.6],
      ['D', 5.6],
    ]);
    const begun = logOf(data)[0];
    if (begun?.type !== 'begin' || !press.ok) throw new Error('no beginning');
    expect(begun.press).toEqual(press.value);
    const job = readJob(readFileSync(join(data, 'setup/job-plum-jam-lid.json'), 'utf8'), 'j', press.value);
    expect(job).toEqual({ ok: true, value: begun.job });
    expect(JSON.parse(readFileSync(join(data, 'shop.json'), 'utf8'))).toMatchObject({
      presses: [{ name: 'Line B', path: join(data, 'setup/press-line-b.json') }],
      jobs: [{ name: 'plum jam lid', path: join(data, 'setup/job-plum-jam-lid.json') }],
      runs: [{ press: 'Line B', job: 'plum jam lid', ended: null }],
    });
  });

  it('all of it pasted at once is taken line by line', async () => {
    const data = newData();
    const screen = onScreen(data, 'start', '--by', 'MK');
    await screen.waitFor('What is the press called?');
    screen.type([...PRESS_TALK, ...JOB_TALK, ['', '']].map(([, typed]) => `${typed}\r`).join(''));
    await screen.waitFor('make-ready');
    await leaveBoard(screen);
    expect(setupOf(data)).toHaveLength(2);
  });

  it.each([
    ['Ctrl-C', '\u0003', 130],
    ['Ctrl-D', '\u0004', 1],
  ] as const)('%s leaves at any question and writes nothing', async (_, key, code) => {
    for (const far of [0, 5, 14, 30]) {
      const data = join(newData(), 'data');
      const screen = onScreen(data, 'start', '--by', 'MK');
      await answer(screen, [...PRESS_TALK, ...JOB_TALK].slice(0, far));
      await screen.waitFor(/\?[^\n]*$|Right\?[^\n]*$/);
      if (far === 5) screen.type('half an ans');
      if (far === 5 && key === '\u0004') screen.type('\u0015');
      screen.type(key);
      expect((await screen.exited).code, `after ${far}`).toBe(code);
      expect(screen.screen()).toContain('Nothing was written');
      expect(existsSync(data), `after ${far}`).toBe(false);
    }
  });

  it("yesterday's press and job are offered first, and taken as they are with two keys", async () => {
    const data = await setUpOnce();
    expect(holdreg(data, 'end', '--counter', '0').code).toBe(0);
    const before = setupOf(data).map((file) => readFileSync(join(data, 'setup', file), 'utf8'));
    const screen = onScreen(data, 'start', '--by', 'AB');
    await answer(screen, [['Which? [y]', '']]);
    expect(await screen.waitFor('make-ready')).toContain('plum jam lid');
    await leaveBoard(screen);
    expect(setupOf(data).map((file) => readFileSync(join(data, 'setup', file), 'utf8'))).toEqual(before);
    const { runs } = JSON.parse(readFileSync(join(data, 'shop.json'), 'utf8'));
    expect(runs.map(({ ended }: { ended: string | null }) => ended === null)).toEqual([false, true]);
  });

  it('changed, it is written beside or over the old one, as the operator says, never silently', async () => {
    const data = await setUpOnce();
    const old = readFileSync(join(data, 'setup/job-plum-jam-lid.json'), 'utf8');
    const change = async (teeth: string, which: string): Promise<void> => {
      holdreg(data, 'end', '--counter', '0');
      const screen = onScreen(data, 'start', '--by', 'AB');
      await answer(screen, [['Which? [y]', 'x']]);
      await answer(screen, [['Which? [y]', 'c']]);
      const list = await screen.waitFor('Right? Enter');
      const number = /(\d+) Repeat teeth/.exec(list)?.[1] ?? '';
      await answer(screen, [
        ['Right? Enter', number],
        ['Teeth of the printing repeat', teeth],
        ['Right? Enter', ''],
        ['keep both', which],
      ]);
      await screen.waitFor('make-ready');
      await leaveBoard(screen);
    };
    await change('104', '');
    expect(setupOf(data)).toEqual(['job-plum-jam-lid-2.json', 'job-plum-jam-lid.json', 'press-line-b.json']);
    expect(readFileSync(join(data, 'setup/job-plum-jam-lid.json'), 'utf8')).toBe(old);
    expect(JSON.parse(readFileSync(join(data, 'setup/job-plum-jam-lid-2.json'), 'utf8')).repeat_teeth).toBe(104);
    await change('112', 'o');
    expect(setupOf(data)).toHaveLength(3);
    expect(JSON.parse(readFileSync(join(data, 'setup/job-plum-jam-lid.json'), 'utf8')).repeat_teeth).toBe(112);
  });

  it('another job on the press is asked for alone, with the press file given too', async () => {
    const data = await setUpOnce();
    holdreg(data, 'end', '--counter', '0');
    const tin = JOB_TALK.map(([question, typed]) => [question, typed === 'plum jam lid' ? 'tea tin' : typed] as const);
    const screen = onScreen(data, 'start', '--by', 'AB');
    await answer(screen, [['Which? [y]', 'j'], ['Which? [1]', 'n'], ...tin, ['Right? Enter', '']]);
    await screen.waitFor('tea tin  make-ready');
    await leaveBoard(screen);
    expect(setupOf(data)).toEqual(['job-plum-jam-lid.json', 'job-tea-tin.json', 'press-line-b.json']);
    holdreg(data, 'end', '--counter', '0');
    const given = onScreen(newData(), 'start', PRESS);
    await given.waitFor('What is the job called?');
    given.press('ctrl-c');
    expect((await given.exited).code).toBe(130);
  });

  it('a file that went missing, or is no longer right, is told and costs only the offer', async () => {
    const data = await setUpOnce();
    holdreg(data, 'end', '--counter', '0');
    writeFileSync(join(data, 'setup/job-plum-jam-lid.json'), '{ "format": "job/1" }');
    const screen = onScreen(data, 'start');
    await screen.waitFor('What was used last cannot be used again');
    await answer(screen, [['Which? [1]', '1']]);
    await screen.waitFor('What is the job called?');
    screen.press('ctrl-c');
    await screen.exited;
    rmSync(join(data, 'setup'), { recursive: true });
    const gone = onScreen(data, 'start');
    await gone.waitFor('there is no such file');
    await gone.waitFor('What is the press called?');
    gone.press('ctrl-c');
    await gone.exited;
    rmSync(join(data, 'shop.json'));
    mkdirSync(join(data, 'shop.json'));
    const barred = onScreen(data, 'start');
    await barred.waitFor('What is the press called?');
    barred.press('ctrl-c');
    await barred.exited;
  });
});

describe('before anything is asked', () => {
  it('from a script it is refused; with a run in progress, a name that is taken or a profile that is wrong too', async () => {
    const data = newData();
    expect(holdreg(data, 'start')).toMatchObject({
      code: 2,
      out: '',
      err: expect.stringMatching(/which press and which job/),
    });
    const made = await setUpOnce();
    const running = onScreen(made, 'start');
    expect((await running.exited).code).toBe(2);
    expect(running.screen()).toContain('is in progress');
    const [run = ''] = readdirSync(join(made, 'runs'));
    const taken = onScreen(made, 'start', '--run', run);
    expect((await taken.exited).code).toBe(2);
    expect(taken.screen()).toContain('there is already a run');
    const sensor = onScreen(data, 'start', '--sensor', '/dev/null', '--profile', join(data, 'none.json'));
    expect((await sensor.exited).code).toBe(2);
    expect(sensor.screen()).toContain('no such profile');
    expect(existsSync(join(data, 'runs'))).toBe(false);
  });

  it('with files named it takes them as they are and remembers them for the next time', async () => {
    const data = newData();
    const job = PRESS.replace('press.json', 'job.json');
    expect(holdreg(data, 'start', PRESS, job, '--by', 'MK', '--no-board').code).toBe(0);
    expect(JSON.parse(readFileSync(join(data, 'shop.json'), 'utf8'))).toMatchObject({
      presses: [{ name: 'Line B', path: PRESS }],
      jobs: [{ name: 'plum jam lid', path: job }],
    });
    // A shop file that is damaged is told and stops nothing.
    holdreg(data, 'end', '--counter', '0');
    writeFileSync(join(data, 'shop.json'), '{');
    const said = holdreg(data, 'start', PRESS, job, '--by', 'MK', '--no-board');
    expect([said.code, said.out]).toEqual([0, expect.stringContaining('is open in make-ready')]);
    expect(said.err).toMatch(/shop\.json was damaged/);
    expect(JSON.parse(readFileSync(join(data, 'shop.json'), 'utf8')).runs).toHaveLength(2);
  });

  it('what a run taught of a knob and of plates is in the first record of the next, with nothing done for it', () => {
    const data = runningPress();
    for (const args of [
      ['check', '2:20A:0:clean', '3:0:0:clean', '4:0:0', '5:0:0', 'D:0', '--counter', '7000'],
      ['moved', '2', 'retard', '5', '--counter', '7050'],
      ['check', '2:14A:0:clean', '3:0:0:clean', '4:0:0', '5:0:0', 'D:0', '--counter', '8500'],
      ['end', '--counter', '8600'],
      ['start', PRESS, PRESS.replace('press.json', 'job.json'), '--no-board'],
    ])
      expect(holdreg(data, ...args).code, args.join(' ')).toBe(0);
    const folder = join(data, 'runs', readdirSync(join(data, 'runs')).toSorted().at(-1) ?? '');
    const opened = openState(folder, 'look');
    if (!opened.ok || opened.value.state === null) throw new Error('not opened');
    expect(opened.value.state.judged.knobs['2']?.along.moves).toBe(1);
    expect(opened.value.state.judged.plates.learned['3']?.lives).toEqual([{ from_m: expect.any(Number), to_m: null }]);
    const { runs } = JSON.parse(readFileSync(join(data, 'shop.json'), 'utf8'));
    expect(runs.map(({ ended }: { ended: string | null }) => ended === null)).toEqual([false, true]);
  });
});
