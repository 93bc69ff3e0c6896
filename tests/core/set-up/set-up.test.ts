import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readJob } from '../../../src/core/job-file.js';
import { type JobFile, jobSchema } from '../../../src/core/job-schema.js';
import { readPress } from '../../../src/core/press-file.js';
import { type PressFile, pressSchema } from '../../../src/core/press-schema.js';
import { jobAnswers } from '../../../src/core/set-up/job-answers.js';
import { pressAnswers } from '../../../src/core/set-up/press-answers.js';
import {
  beginSetUp,
  promptOf,
  questionsOf,
  type SetUp,
  type SetUpDone,
  sayOf,
  stepSetUp,
} from '../../../src/core/set-up/set-up.js';
import { seeded } from '../../support/seeded.js';
import { JOB_TEXT, PRESS_TEXT } from '../example-files.js';

const NOTHING = { press: null, pressFile: null, jobFile: null };

type Talk = { readonly state: SetUp; readonly said: readonly string[]; readonly done: SetUpDone | null };

const talk = (state: SetUp, lines: readonly string[]): Talk =>
  lines.reduce<Talk>(
    (before, line) => {
      const step = stepSetUp(before.state, line);
      return { state: step.state, said: [...before.said, ...step.say], done: step.done };
    },
    { state, said: [], done: null },
  );

const filesOf = (talked: Talk): { readonly press: PressFile; readonly job: JobFile } => {
  if (talked.done === null || talked.done === 'leave' || talked.done.press === null)
    throw new Error(`not done: ${promptOf(talked.state)}\n${talked.said.join('\n')}`);
  return { press: talked.done.press, job: talked.done.job };
};

const PRESS_LINES = ['Line B', '1/8 in CP', '6', '', '', '', '1.2', '2', '3.5', '', '', ''];
const JOB_LINES = [
  ...['plum jam lid', 'opaque white', 'plum', 'leaf', 'grey', 'black', 'varnish', ''],
  ...['all but 6', '', '', '', '0.15', '', '0.4', ''],
  ...['96', '4', '3', '2000', '', '', '60', ''],
];

describe('set-up by questions', () => {
  it('makes the press and the job of the plum-jam lids from what the operator knows', () => {
    const { press, job } = filesOf(talk(beginSetUp(NOTHING), [...PRESS_LINES, ...JOB_LINES, '']));
    expect(press).toEqual({
      format: 'press/1',
      name: 'Line B',
      gear: '1/8 in CP',
      stations: [
        ...[1.2, 2.4, 3.6, 4.8, 6, 7.2].map((at_m, i) => ({ id: String(i + 1), kind: 'print', at_m })),
        { id: 'D', kind: 'die', at_m: 9.2, fixed: ['across'] },
      ],
      sample_m: 12.7,
    });
    expect(job).toEqual({
      format: 'job/1',
      name: 'plum jam lid',
      units: { register: 'mm', length: 'm' },
      repeat_teeth: 96,
      labels_across: 4,
      labels_around: 3,
      reference: '1',
      stations: [
        { id: '1', ink: 'opaque white' },
        { id: '2', ink: 'plum' },
        { id: '3', ink: 'leaf' },
        { id: '4', ink: 'grey' },
        { id: '5', ink: 'black' },
        { id: '6', ink: 'varnish', read: 'look' },
        { id: 'D' },
      ],
      tolerance: { print: { along_mm: 0.15, across_mm: 0.15 }, die: { along_mm: 0.4, across_mm: 0.4 } },
      checks: { every_roll: true, every_min: 60 },
      finished_roll_m: 2000,
    });
  });

  it('leaves the rest "not measured"', () => {
    const { press } = filesOf(talk(beginSetUp(NOTHING), [...PRESS_LINES, ...JOB_LINES, '']));
    const read = readPress(JSON.stringify(press), 'p');
    const missing = read.ok ? read.value.not_measured : [];
    for (const key of ['roll_change', 'helix_deg', 'stations.4.along.division_mm', 'stations.4.along.sense'])
      expect(missing).toContain(key);
    // The die is fixed across, so its knob there is not wanting.
    expect(missing).not.toContain('stations.D.across.division_mm');
  });

  it('asks of the knobs what the operator may know, and writes only that', () => {
    const lines = [...PRESS_LINES.slice(0, -3), 'along', '1 thou', 'not known'];
    const { press } = filesOf(talk(beginSetUp(NOTHING), [...lines, ...JOB_LINES, '']));
    expect(press.knobs).toEqual({
      along: { division_mm: 0.0254, while_running: true },
      across: { while_running: false },
    });
    const none = filesOf(talk(beginSetUp(NOTHING), [...PRESS_LINES, ...JOB_LINES, '']));
    expect(none.press.knobs).toBeUndefined();
    const read = readPress(JSON.stringify(press), 'p');
    expect(read.ok ? pressAnswers(press, read.value) : null).toMatchObject({
      'press.running': 'along',
      'press.division.along': '0.0254 mm',
      'press.division.across': 'not known',
    });
  });

  it('no question, and no explanation, speaks of scatter or false notices', () => {
    let state = beginSetUp(NOTHING);
    const words: string[] = [];
    for (const line of [...PRESS_LINES, ...JOB_LINES]) {
      words.push(promptOf(state), ...stepSetUp(state, '?').say);
      state = stepSetUp(state, line).state;
    }
    expect(words.length).toBe(72);
    expect(words.join('\n')).not.toMatch(/scatter|false|sigma|spread|statist|standard dev/i);
  });

  it('every question fits a line of 80 with an answer behind it, and explains itself', () => {
    let state = beginSetUp(NOTHING);
    for (const line of [...PRESS_LINES, ...JOB_LINES]) {
      expect(promptOf(state).length, promptOf(state)).toBeLessThanOrEqual(80);
      expect(stepSetUp(state, '?').say.join('').length).toBeGreaterThan(20);
      state = stepSetUp(state, line).state;
    }
  });

  it.each([
    [[], '', /an answer is needed/],
    [['Line B'], '32 pitch', /32 DP.*1\/32 in CP/],
    [['Line B'], '1/8', /1\/8/],
    [PRESS_LINES.slice(0, 2), 'six', /in digits/],
    [PRESS_LINES.slice(0, 4), '9', /"9" is not one of 1, 2, 3, 4, 5, 6, first/],
    [PRESS_LINES.slice(0, 6), '1200', /write mm/],
    [PRESS_LINES.slice(0, 6), '1 2', /2 distances for 7 stations/],
    [[...PRESS_LINES, 'plum jam lid', ...Array(5).fill('-')], '-', /fewer than two/],
    [[...PRESS_LINES, 'plum jam lid', ...Array(5).fill('-'), 'plum'], 'n', /fewer than two/],
    [[...PRESS_LINES, ...JOB_LINES.slice(0, 8)], 'D', /at least one print station/],
    [[...PRESS_LINES, ...JOB_LINES.slice(0, 12)], '15', /0\.15 mm or 15 mm/],
    [[...PRESS_LINES, ...JOB_LINES.slice(0, 16)], '96.5', /whole number of teeth/],
    [[...PRESS_LINES, ...JOB_LINES.slice(0, 19)], '2,000', /2000 or 2\.000/],
    [[...PRESS_LINES, ...JOB_LINES.slice(0, 20), 'n', 'no'], 'no', /no check is ever due/],
    [[...PRESS_LINES, ...JOB_LINES.slice(0, 23)], 'D', /die cannot be the reference/],
    [[...PRESS_LINES, ...JOB_LINES.slice(0, 23)], '6', /6 has no mark that is measured/],
  ] as const)('after %j, %j is asked again with one message and changes nothing', (before, wrong, words) => {
    const { state } = talk(beginSetUp(NOTHING), before);
    const step = stepSetUp(state, wrong);
    expect(step.say).toHaveLength(1);
    expect(step.say[0]).toMatch(words);
    expect([step.state, step.done]).toEqual([state, null]);
  });

  it('with one print station there must be a die; its distance is asked once', () => {
    const start = talk(beginSetUp(NOTHING), ['Line C', '10 DP', '1']);
    expect(stepSetUp(start.state, 'n').say[0]).toMatch(/between two stations/);
    const on = talk(start.state, ['y', '', 'neither']);
    expect(promptOf(on.state)).toBe('Metres of web from 1 to the die?');
    expect(promptOf(talk(on.state, ['2.5']).state)).toBe('Metres of web from the die to where samples are pulled?');
  });

  it('distances one by one offer the one before, and the die may stand anywhere', () => {
    const { state } = talk(beginSetUp(NOTHING), ['Line C', '10 DP', 'W 1 2', '', 'W', '', 'each', '4 ft']);
    expect(promptOf(state)).toBe('Metres of web from the die to 1? [4 ft]');
    const all = talk(state, ['', '1.5', '3', '', '', '']);
    const job = ['tea tin', '', 'y', 'red', 'blue', '', 'thou', '', '6', '', '12', '', '60', ...Array(8).fill('')];
    const { press } = filesOf(talk(all.state, job));
    expect(press.stations.map(({ id, at_m }) => [id, at_m])).toEqual([
      ['W', 1.2192],
      ['D', 2.4384],
      ['1', 3.6576],
      ['2', 5.1576],
    ]);
  });

  it('one spacing for all is written as one', () => {
    const { press } = filesOf(
      talk(beginSetUp(NOTHING), [
        'Line C',
        '10 DP',
        '3',
        'n',
        '1.5',
        '4',
        ...Array(3).fill(''),
        'x',
        ...Array(3).fill(''),
        '',
        '',
        '',
        '0.2',
        '',
        '60',
        ...Array(8).fill(''),
      ]),
    );
    expect(press).toMatchObject({ spacing_m: 1.5, stations: [{ id: '1', kind: 'print' }, {}, {}], sample_m: 8.5 });
    expect(Object.keys(press.stations[0] ?? {})).toEqual(['id', 'kind']);
  });

  it('< goes back to the question before, with what was answered in brackets', () => {
    const { state } = talk(beginSetUp(NOTHING), ['Lien B', '<']);
    expect(promptOf(state)).toBe('What is the press called? [Lien B]');
    const on = talk(state, ['Line B']);
    expect(on.state.answers).toEqual({ 'press.name': 'Line B' });
    expect(stepSetUp(beginSetUp(NOTHING), '<').say).toEqual(['this is the first question']);
  });

  it('at the end every answer can be changed; what no longer fits is asked again', () => {
    const { state } = talk(beginSetUp(NOTHING), [...PRESS_LINES, ...JOB_LINES]);
    const list = sayOf(state).join('\n');
    expect(list).toContain('15 Ink on 2: plum');
    expect(list.split('\n').every((line) => line.length < 80)).toBe(true);
    const numberOf = (key: string) =>
      String(questionsOf(NOTHING, state.answers).findIndex((question) => question.key === key) + 1);
    const seven = talk(state, [numberOf('job.teeth'), '104', numberOf('press.prints'), '7', '1.2', 'gold', '']);
    const { press, job } = filesOf(seven);
    expect(press.stations.map(({ id }) => id)).toEqual(['1', '2', '3', '4', '5', '6', 'D', '7']);
    expect([job.repeat_teeth, job.stations.at(-1)]).toEqual([104, { id: '7', ink: 'gold' }]);
    expect(stepSetUp(state, '99').say[0]).toMatch(/"99" is neither Enter, a number from 1 to/);
    expect(stepSetUp(state, 'q').done).toBe('leave');
  });

  it('a reference that can no longer be read is proposed anew', () => {
    const { state } = talk(beginSetUp(NOTHING), [...PRESS_LINES, ...JOB_LINES]);
    const at = questionsOf(NOTHING, state.answers).findIndex(({ key }) => key === 'job.measured') + 1;
    const on = talk(state, [String(at), '2-5', 'look', 'look', 'look']);
    expect(promptOf(on.state)).toBe('Which print station are the others read against? [2]');
  });

  it('another unit of register does not change what a tolerance means', () => {
    const { state } = talk(beginSetUp(NOTHING), [...PRESS_LINES, ...JOB_LINES]);
    const at = questionsOf(NOTHING, state.answers).findIndex(({ key }) => key === 'job.register') + 1;
    const { job } = filesOf(talk(state, [String(at), 'thou', '']));
    expect([job.units?.register, job.tolerance.print]).toEqual(['thou', { along_mm: 0.15, across_mm: 0.15 }]);
  });
});

const PRESS_FILE = new URL('../../../demo-data/press.json', import.meta.url);
const JOB_FILE = new URL('../../../demo-data/job.json', import.meta.url);

describe("yesterday's files", () => {
  it.each([
    ['the example', PRESS_TEXT, JOB_TEXT],
    ['the demo', readFileSync(PRESS_FILE, 'utf8'), readFileSync(JOB_FILE, 'utf8')],
  ])(
    '%s: taken as answers they make the same press and job again, with all that is not asked',
    (_, pressText, jobText) => {
      const press = readPress(pressText, 'p');
      const job = press.ok ? readJob(jobText, 'j', press.value) : press;
      if (!press.ok || !job.ok) throw new Error('example');
      const pressFile = pressSchema.parse(JSON.parse(pressText));
      const jobFile = jobSchema.parse(JSON.parse(jobText));
      const state = beginSetUp(
        { press: null, pressFile, jobFile },
        { ...pressAnswers(pressFile, press.value), ...jobAnswers(jobFile, job.value, press.value) },
      );
      expect(promptOf(state)).toMatch(/^Right\? Enter/);
      const made = filesOf(talk(state, ['']));
      const [again, jobAgain] = [readPress(JSON.stringify(made.press), 'p'), JSON.stringify(made.job)];
      expect(again).toEqual(press);
      expect(again.ok && readJob(jobAgain, 'j', again.value)).toEqual(job);
      expect(sayOf(state).join('\n')).toMatch(/Kept as the earlier files say: knobs.*pairs/);
    },
  );

  it('a station taken off the job takes its pair and its own tolerance along', () => {
    const press = readPress(PRESS_TEXT, 'p');
    const job = press.ok ? readJob(JOB_TEXT, 'j', press.value) : press;
    if (!press.ok || !job.ok) throw new Error('example');
    const jobFile = jobSchema.parse(JSON.parse(JOB_TEXT));
    const given = { press: press.value, pressFile: null, jobFile };
    const state = beginSetUp(given, jobAnswers(jobFile, job.value, press.value));
    const at = questionsOf(given, state.answers).findIndex(({ key }) => key === 'job.ink.3') + 1;
    const { done } = talk(state, [String(at), '-', '']);
    if (done === null || done === 'leave') throw new Error('not done');
    expect(done.press).toBeNull();
    expect([done.job.pairs, done.job.tolerance.stations]).toEqual([undefined, undefined]);
    expect(done.job.stations.map(({ id }) => id)).toEqual(['1', '2', 'D']);
  });

  it('a press with two dies is none that the questions can say', () => {
    const file = pressSchema.parse({
      ...JSON.parse(PRESS_TEXT),
      stations: [...JSON.parse(PRESS_TEXT).stations, { id: 'E', kind: 'die', at_m: 9 }],
    });
    const press = readPress(JSON.stringify(file), 'p');
    expect(press.ok && pressAnswers(file, press.value)).toBeNull();
  });
});

describe('whatever is typed', () => {
  // 3 000 lines, right and wrong, in any order: no throw, refusals change nothing, and what comes out always reads.
  const POOL = [
    ...[
      '',
      '',
      '',
      '',
      '',
      '',
      '',
      '',
      'y',
      'n',
      '<',
      '?',
      '-',
      '1',
      '2',
      '3',
      '6',
      '7',
      '12',
      '25',
      '31',
      '96',
      '0.15',
      '1.2',
    ],
    ...[
      '1,5',
      '4 ft',
      '2000',
      'all',
      'all but 2',
      'none',
      'each',
      '1 2 3',
      'W 1 V',
      '10 DP',
      'module 1',
      '32 pitch',
      'first',
    ],
    ...[
      'across',
      'never',
      'look',
      'thou',
      '64ths',
      'ft',
      '2,000',
      'Line B',
      'plum',
      '\u0007',
      '__proto__',
      '1e9',
      'NaN',
      '🙂',
      'both',
      'no',
    ],
  ];

  it.each([1, 2, 3, 4, 5, 6])('seed %d', (seed) => {
    const { uniform } = seeded(seed);
    let state = beginSetUp(NOTHING);
    let made = 0;
    for (let i = 0; i < 500; i++) {
      // Now and then what fits, so that the end is reached.
      const typed = POOL[Math.floor(uniform() * POOL.length)] ?? '';
      const step = stepSetUp(state, typed);
      if (step.done !== null && step.done !== 'leave') {
        const press = readPress(JSON.stringify(step.done.press), 'p');
        expect(press.ok && readJob(JSON.stringify(step.done.job), 'j', press.value).ok).toBe(true);
        made += 1;
      }
      expect(promptOf(step.state).length).toBeGreaterThan(5);
      expect(sayOf(step.state).every((line) => !line.includes('undefined'))).toBe(true);
      state = step.state;
    }
    expect(made).toBeGreaterThan(0);
  });
});
