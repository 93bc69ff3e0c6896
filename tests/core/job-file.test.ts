import { describe, expect, test } from 'vitest';
import { type Job, toleranceOf } from '../../src/core/job.js';
import { readJob } from '../../src/core/job-file.js';
import { readPress } from '../../src/core/press-file.js';
import { JOB_TEXT, PRESS_TEXT } from './example-files.js';

const pressRead = readPress(PRESS_TEXT, 'press.json');
if (!pressRead.ok) throw new Error(pressRead.problem.message);
const press = pressRead.value;

const job = (text: string): Job => {
  const read = readJob(text, 'job.json', press);
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
};
const refusal = (text: string): string => {
  const read = readJob(text, 'job.json', press);
  return read.ok ? 'accepted' : read.problem.message;
};
const swap = (from: string, to: string): string => {
  if (!JOB_TEXT.includes(from)) throw new Error(`example has no ${from}`);
  return JOB_TEXT.replace(from, to);
};
const small = (stations: string, more = ''): string =>
  `{"format":"job/1","name":"J","repeat_teeth":96,"stations":[${stations}],"tolerance":{"print":{"along_mm":0.15,"across_mm":0.2}}${more}}`;

describe('a job file', () => {
  test('the example, every key taken', () => {
    expect(job(JOB_TEXT)).toEqual({
      name: 'plum jam lid',
      units: { register: 'mm', length: 'm' },
      repeat_teeth: 96,
      labels_across: 4,
      labels_around: 3,
      marks: 'label',
      reference: '1',
      stations: [
        { id: '1', ink: 'opaque white', aim_mm: { along: 0, across: 0 }, read: 'measure' },
        { id: '2', ink: 'plum', aim_mm: { along: 0, across: 0 }, read: 'measure' },
        { id: '3', ink: 'leaf', aim_mm: { along: 0, across: 0 }, read: 'measure' },
        { id: 'D', ink: null, aim_mm: { along: 0, across: 0 }, read: 'measure' },
      ],
      tolerance_mm: {
        '1': { along: 0.15, across: 0.15 },
        '2': { along: 0.15, across: 0.15 },
        '3': { along: 0.1, across: 0.15 },
        D: { along: 0.4, across: 0.4 },
      },
      pairs: [{ stations: ['2', '3'], tolerance_mm: { along: 0.12, across: 0.12 } }],
      reading: { resolution_mm: 0.05, spread_mm: { along: 0.04, across: 0.03 }, spread_worth_checks: 10 },
      checks: { every_roll: true, every_m: 2500, every_min: 60 },
      sensor_checks: { by: 'repeats', size: 50, marks_per_repeat: 1, fewest_good: 5 },
      bring_in: 1 / 3,
      settle_m: 60,
      finished_roll_m: 2000,
      false_notice: { keyed: 200, sensor: 20000 },
    });
  });

  test("how a sensor's repeats become checks: by repeats, metres or seconds", () => {
    const given = (checks: string) => small('{"id":"2"}', `,"sensor_checks":${checks}`);
    expect(job(given('{"every_repeats":3}')).sensor_checks).toEqual({
      by: 'repeats',
      size: 3,
      marks_per_repeat: 1,
      fewest_good: 3,
    });
    expect(job(given('{"every_m":25.5,"marks_per_repeat":3,"fewest_good":9}')).sensor_checks).toEqual({
      by: 'metres',
      size: 25.5,
      marks_per_repeat: 3,
      fewest_good: 9,
    });
    expect(job(given('{"every_s":20}')).sensor_checks).toMatchObject({ by: 'seconds', size: 20 });
    expect(refusal(given('{"every_m":25,"every_s":20}'))).toContain(
      'sensor_checks.every_s: found beside every_m; a sensor check ends by repeats, metres or seconds: give one of them',
    );
    expect(refusal(given('{"every_repeats":4,"fewest_good":5}'))).toContain('more than the 4 readings');
    expect(refusal(given('{"every_repeats":0}'))).toContain('sensor_checks.every_repeats');
    expect(refusal(given('{"every_repeat":5}'))).toContain('every_repeats');
  });

  test('the defaults', () => {
    expect(job(small('{"id":"2"},{"id":"D"}'))).toEqual({
      name: 'J',
      units: { register: 'mm', length: 'm' },
      repeat_teeth: 96,
      labels_across: 1,
      labels_around: 1,
      marks: 'label',
      reference: '2',
      stations: [
        { id: '2', ink: null, aim_mm: { along: 0, across: 0 }, read: 'measure' },
        { id: 'D', ink: null, aim_mm: { along: 0, across: 0 }, read: 'measure' },
      ],
      // A die without its own tolerance has that of print.
      tolerance_mm: { '2': { along: 0.15, across: 0.2 }, D: { along: 0.15, across: 0.2 } },
      pairs: [],
      reading: { resolution_mm: 0.05, spread_mm: { along: 0.04, across: 0.04 }, spread_worth_checks: 10 },
      checks: { every_roll: true, every_m: null, every_min: null },
      sensor_checks: { by: 'repeats', size: 50, marks_per_repeat: 1, fewest_good: 5 },
      bring_in: 1 / 3,
      settle_m: 60,
      finished_roll_m: null,
      false_notice: { keyed: 200, sensor: 20000 },
    });
  });

  test('the scatter may be one number, or one an axis', () => {
    expect(job(small('{"id":"2"}', ',"reading":{"spread_mm":0.02}')).reading.spread_mm).toEqual({
      along: 0.02,
      across: 0.02,
    });
    expect(job(small('{"id":"2"}', ',"reading":{"spread_mm":{"across":0.02}}')).reading.spread_mm).toEqual({
      along: 0.04,
      across: 0.02,
    });
  });

  test('the reference, when none is named, is the print station farthest from the die that has a mark', () => {
    const die = '{"id":"D"}';
    expect(job(small(`{"id":"3"},{"id":"2"},{"id":"1"},${die}`)).reference).toBe('1');
    expect(job(small(`{"id":"1","read":"never"},{"id":"2"},{"id":"3"},${die}`)).reference).toBe('2');
    expect(job(small(`{"id":"1","read":"look"},{"id":"2"},{"id":"3"},${die}`)).reference).toBe('2');
    expect(job(small('{"id":"3"},{"id":"2"}')).reference).toBe('2');
    expect(refusal(small('{"id":"1","read":"never"}'))).toBe(
      'job.json: reference: missing, and no print station has a mark to read; give one print station "read": "measure"',
    );
    // A die in the middle: the farthest may lie after it.
    const middle = readPress(
      PRESS_TEXT.replace('"at_m": 3.9', '"at_m": 11.9').replace('"at_m": 8.4', '"at_m": 3'),
      'p',
    );
    if (!middle.ok) throw new Error(middle.problem.message);
    const read = readJob(small(`{"id":"1"},{"id":"2"},{"id":"3"},${die}`), 'job.json', middle.value);
    expect(read.ok && read.value.reference).toBe('3');
  });

  test('a tolerance is asked for where something is judged', () => {
    const bare = (tolerance: string): string =>
      `{"format":"job/1","name":"J","repeat_teeth":96,"reference":"1","stations":[{"id":"1"},{"id":"2"},{"id":"D"}],"tolerance":${tolerance}}`;
    expect(refusal(bare('{}')).split('\n')).toEqual([
      'job.json: tolerance.print.along_mm: missing, and station "2" has no tolerance of its own; give mm each way from the aim',
      'job.json: tolerance.die.along_mm: missing, and station "D" has no tolerance of its own; give mm each way from the aim',
    ]);
    const own = job(bare('{"die":{"along_mm":0.4,"across_mm":0.5},"stations":{"2":{"along_mm":0.1,"across_mm":0.2}}}'));
    expect([toleranceOf(own, '2', 'across'), toleranceOf(own, 'D', 'along')]).toEqual([0.2, 0.4]);
  });

  test.each([
    [
      '"repeat_teeth": 96',
      '"repeat_teeth": 0',
      'repeat_teeth: found 0; allowed: a whole number of gear teeth in the printing repeat from 4 to 2000',
    ],
    [
      '"repeat_teeth": 96',
      '"repeat_teeth": 96.5',
      'repeat_teeth: found 96.5; allowed: a whole number of gear teeth in the printing repeat from 4 to 2000',
    ],
    [
      '{ "id": "D" }',
      '{ "id": "6" }',
      'stations[3].id: found "6", which is not on the press "Line B"; allowed: "1", "2", "3", "D"',
    ],
    ['{ "id": "D" }', '{ "id": "3" }', 'stations[3].id: found "3", which stations[2] already has; every id once'],
    [
      '"reference": "1"',
      '"reference": "9"',
      'reference: found "9", which is not a print station of the job; allowed: "1", "2", "3"',
    ],
    [
      '"reference": "1"',
      '"reference": "D"',
      'reference: found "D", which is the die; allowed: a print station of the job: "1", "2", "3"',
    ],
    ['"reference": "1"', '"reference": "3"', 'accepted'],
    [
      '"ink": "opaque white"',
      '"read": "never"',
      'reference: found "1", which has "read": "never"; the reference needs a mark that can be read',
    ],
    [
      '"stations": ["2", "3"]',
      '"stations": ["2", "7"]',
      'pairs[0].stations: found "7", which is not in the job; allowed: "1", "2", "3", "D"',
    ],
    ['"stations": ["2", "3"]', '"stations": ["2", "2"]', 'pairs[0].stations: found "2" twice; a pair is two stations'],
    [
      '"stations": ["2", "3"]',
      '"stations": ["2"]',
      'pairs[0].stations: found a list of 1; allowed: a list of two station ids',
    ],
    [
      '"stations": ["2", "3"], "along_mm": 0.12, "across_mm": 0.12',
      '"stations": ["2", "3"]',
      'pairs[0]: no tolerance; give along_mm or across_mm, mm of difference each way',
    ],
    [
      '{ "3": { "along_mm": 0.10 } }',
      '{ "8": { "along_mm": 0.10 } }',
      'tolerance.stations.8: found "8", which is not in the job; allowed: "1", "2", "3", "D"',
    ],
    ['"die": {', '"dye": {', 'tolerance.dye: unknown key, did you mean "die"?; allowed here: print, die, stations'],
    [
      '"along_mm": 0.15',
      '"along_mm": 0',
      'tolerance.print.along_mm: found 0; allowed: a number of mm each way from the aim, more than 0 and at most 50',
    ],
    [
      '"along_mm": 0.15',
      '"along_mm": 51',
      'tolerance.print.along_mm: found 51; allowed: a number of mm each way from the aim, more than 0 and at most 50',
    ],
    [
      '"along_mm": 0.15',
      '"along_mm": "0,15"',
      'tolerance.print.along_mm: found "0,15"; allowed: a number of mm each way from the aim, more than 0 and at most 50; write decimals with a point and without quotes',
    ],
    [
      '"register": "mm"',
      '"register": "inch"',
      'units.register: found "inch"; allowed: "mm" or "in" or "thou" or "64ths"',
    ],
    [
      '"read": "measure"',
      '"read": "mesure"',
      'stations[2].read: found "mesure"; allowed: "measure" or "look" or "never", did you mean "measure"?',
    ],
    [
      '{ "along": 0.04, "across": 0.03 }',
      '{ "alon": 0.04 }',
      'reading.spread_mm.alon: unknown key, did you mean "along"?; allowed here: along, across',
    ],
    [
      '{ "along": 0.04, "across": 0.03 }',
      '{ "along": 0 }',
      'reading.spread_mm.along: found 0; allowed: a number of mm (1 sigma), more than 0 and at most 10',
    ],
    [
      '{ "along": 0.04, "across": 0.03 }',
      '"little"',
      'reading.spread_mm: found "little"; allowed: a number of mm (1 sigma), or one for each of along and across',
    ],
    ['"every_roll": true', '"every_roll": "yes"', 'checks.every_roll: found "yes"; allowed: true or false'],
    ['"tolerance": {', '"tolerances": {', 'accepted'],
  ])('%s written as %s', (from, to, message) => {
    if (from === '"tolerance": {') {
      expect(refusal(swap(from, to)).split('\n')).toEqual([
        'job.json: tolerance: missing; allowed: a block with the keys print, die, stations',
        expect.stringContaining('job.json: tolerances: unknown key, did you mean "tolerance"?'),
      ]);
      return;
    }
    expect(refusal(swap(from, to))).toBe(message === 'accepted' ? message : `job.json: ${message}`);
  });
});
