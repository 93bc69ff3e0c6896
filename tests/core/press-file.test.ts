import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Press } from '../../src/core/press.js';
import { readPress } from '../../src/core/press-file.js';
import { PRESS_TEXT } from './example-files.js';

const press = (text: string): Press => {
  const read = readPress(text, 'press.json');
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
};
const refusal = (text: string): string => {
  const read = readPress(text, 'press.json');
  return read.ok ? 'accepted' : read.problem.message;
};
const swap = (from: string, to: string): string => {
  if (!PRESS_TEXT.includes(from)) throw new Error(`example has no ${from}`);
  return PRESS_TEXT.replace(from, to);
};

const SMALL =
  '{"format":"press/1","name":"P","tooth_mm":3.175,"stations":[{"id":"1","kind":"print","at_m":1}],"sample_m":5}';

describe('a press file', () => {
  test('the example, every key taken', () => {
    const read = press(PRESS_TEXT);
    expect(read).toMatchObject({
      name: 'Line B',
      gear: '1/8 in CP',
      tooth_mm: 3.175,
      web_runs: 'left-to-right',
      roll_change: 'running',
      sample_m: 12,
      samples: { waste: 9.6, before_die: 8 },
      sensor_m: 11,
      helix_deg: 0,
    });
    expect(read.stations.map(({ id, kind, at_m, fixed }) => [id, kind, at_m, fixed])).toEqual([
      ['1', 'print', 1.5, []],
      ['2', 'print', 2.7, []],
      ['3', 'print', 3.9, []],
      ['D', 'die', 8.4, ['across']],
    ]);
    expect(read.stations[1]?.knobs.along).toEqual({
      division_mm: 0.02,
      travel_mm: 3,
      sense: -1,
      sense_given: true,
      word: 'divisions',
      while_running: true,
      hand_plus: 'clockwise',
    });
    expect(read.stations[0]?.knobs.across).toEqual({
      division_mm: 0.05,
      travel_mm: 5,
      sense: 1,
      sense_given: false,
      word: 'divisions',
      while_running: null,
      hand_plus: 'clockwise',
    });
  });

  test('the least that is allowed; all else stands at a default, listed as not measured', () => {
    const read = press(SMALL);
    expect(read.gear).toBeNull();
    expect(read.samples).toEqual({});
    expect(read.stations[0]?.knobs.along.division_mm).toBeNull();
    expect(read.not_measured).toEqual([
      'web_runs',
      'roll_change',
      'sensor_m',
      'helix_deg',
      ...['along', 'across'].flatMap((axis) =>
        ['division_mm', 'travel_mm', 'sense', 'while_running', axis === 'along' ? 'to_advance' : 'to_operator'].map(
          (key) => `stations.1.${axis}.${key}`,
        ),
      ),
    ]);
  });

  test('a fixed axis has no knob to measure', () => {
    expect(press(PRESS_TEXT).not_measured.filter((path) => path.startsWith('stations.D.across'))).toEqual([]);
  });

  test('stations come in web order whatever the order of the file', () => {
    const read = press(swap('"at_m": 1.5', '"at_m": 7.5'));
    expect(read.stations.map(({ id }) => id)).toEqual(['2', '3', '1', 'D']);
  });

  test('one spacing for all; a station that says its place keeps it and the next follows from there', () => {
    const text = `{"format":"press/1","name":"P","gear":"10 DP","spacing_m":0.6,"sample_m":9,"stations":[{"id":"1","kind":"print"},
      {"id":"2","kind":"print"},{"id":"3","kind":"print"},{"id":"D","kind":"die","at_m":4},{"id":"E","kind":"print"}]}`;
    expect(press(text).stations.map(({ id, at_m }) => [id, at_m])).toEqual([
      ['1', 0.6],
      ['2', 1.2],
      ['3', 1.8],
      ['D', 4],
      ['E', 4.6],
    ]);
  });

  test('gear and tooth both given must agree', () => {
    expect(press(swap('"gear": "1/8 in CP"', '"gear": "10 DP", "tooth_mm": 7.98')).tooth_mm).toBeCloseTo(7.979645, 6);
    expect(refusal(swap('"helix_deg"', '"tooth_mm": 3.2, "helix_deg"'))).toBe(
      'press.json: tooth_mm: found 3.2, but gear "1/8 in CP" is 3.175 mm a tooth; correct one or take it out',
    );
  });

  test.each([
    ['"kind": "die"', '"kind": "dei"', 'stations[3].kind: found "dei"; allowed: "print" or "die", did you mean "die"?'],
    [
      '"division_mm": 0.02',
      '"divison_mm": 0.02',
      'stations[1].along.divison_mm: unknown key, did you mean "division_mm"?; allowed here: division_mm, travel_mm, centred, sense, word, while_running, to_advance',
    ],
    [
      '"sense": -1',
      '"sense": 2',
      "stations[1].along.sense: found 2; allowed: 1, or -1 when the knob's own mark says the opposite of what the print does",
    ],
    [
      '"gear": "1/8 in CP"',
      '"gear": "32 pitch"',
      'gear: found "32 pitch" can mean two things: write "32 DP" (2.49 mm a tooth) or "1/32 in CP" (0.79 mm a tooth)',
    ],
    ['"gear": "1/8 in CP", ', '', 'gear: missing; give the gear by name, as "1/8 in CP", or tooth_mm'],
    ['"id": "2"', '"id": "1"', 'stations[1].id: found "1", which stations[0] already has; every id once'],
    [
      '"id": "2"',
      '"id": 2',
      'stations[1].id: found 2; allowed: text of 1 to 16 letters, digits, space, point, - or _, in double quotes',
    ],
    [
      '"id": "2"',
      '"id": "toString"',
      'stations[1].id: found "toString"; allowed: text of 1 to 16 letters, digits, space, point, - or _, in double quotes',
    ],
    [
      '"id": "2"',
      '"id": "../2"',
      'stations[1].id: found "../2"; allowed: text of 1 to 16 letters, digits, space, point, - or _, in double quotes',
    ],
    ['"at_m": 2.7', '"at_m": 1.5', 'stations[1].at_m: found 1.5, where station "1" already stands'],
    [
      '"at_m": 2.7',
      '"at_m": 1e9',
      'stations[1].at_m: found 1000000000; allowed: a number of metres of web path from the unwind from 0 to 1000',
    ],
    [
      '"at_m": 2.7',
      '"at_m": 1e999',
      'stations[1].at_m: found Infinity; allowed: a number of metres of web path from the unwind from 0 to 1000',
    ],
    [
      '"at_m": 2.7',
      '"at_m": "2.7"',
      'stations[1].at_m: found "2.7"; allowed: a number of metres of web path from the unwind from 0 to 1000; write numbers without quotes',
    ],
    [
      ', "at_m": 2.7',
      '',
      'stations[1].at_m: missing; give at_m (metres of web path from the unwind), or spacing_m once for all',
    ],
    [
      '"sample_m": 12.0',
      '"sample_m": 7',
      'sample_m: found 7; a sample pulled at the rewind has passed every station, the last is "D" at 8.4 m',
    ],
    [
      '"sample_m": 12.0, ',
      '',
      'sample_m: missing; allowed: a number of metres of web path from the unwind from 0 to 1000',
    ],
    ['"format": "press/1"', '"format": "press/2"', 'format: found "press/2"; allowed: "press/1"'],
    [
      '"fixed": ["across"]',
      '"fixed": ["sideways"]',
      'stations[3].fixed[0]: found "sideways"; allowed: "along" or "across"',
    ],
    [
      '"name": "Line B"',
      '"name": "\\u001b[31mB"',
      'name: found "<1B>[31mB"; allowed: text of 1 to 80 characters in double quotes',
    ],
    [
      '"waste": 9.6',
      '"waste": -1',
      'samples.waste: found -1; allowed: a number of metres of web path from the unwind from 0 to 1000',
    ],
    ['"knobs"', '"__proto__"', 'line 8 column 3: key "__proto__" is not allowed'],
    [
      '"helix_deg": 0',
      '"helix_deg": NaN',
      'line 10 column 16: expected a value, found "NaN", which is not a number; leave the key out if it is not known',
    ],
    [
      '"helix_deg": 0',
      '"helix_deg": 0,5',
      'line 10 column 18: expected a key in double quotes, found "5"; write decimals with a point, as 0.15',
    ],
    [
      '"helix_deg": 0',
      '"helix_deg": 0,',
      'line 10 column 19: a comma stands before "}" with nothing after it; take the comma out',
    ],
    ['"helix_deg": 0', '"sample_m": 12', 'line 10 column 3: key "sample_m" is given twice'],
    [
      '"roll_change": "running",',
      '"roll_change": "running"',
      'line 2 column 3: expected "," or "}" after the value of "roll_change", found "\\""',
    ],
    [
      '"stations": [',
      '// the stations\n"stations": [',
      'line 2 column 3: comments are not allowed in this file; take it out',
    ],
    [
      '"helix_deg": 0 }',
      '"helix_deg": 0 ',
      'line 10 column 18: expected "," or "}" after the value of "helix_deg", found the end of the file',
    ],
    ['"Line B"', "'Line B'", 'line 1 column 32: expected a value, found "\'Line", text stands in double quotes'],
  ])('%s written as %s', (from, to, message) => {
    expect(refusal(swap(from, to))).toBe(`press.json: ${message}`.replace(`"'Line", text`, `"'Line"; text`));
  });

  test('several troubles are told together, one line each, the first few', () => {
    const text =
      '{"format":"press/1","nam":"P","tooth_mm":0,"stations":[{"id":"1","kind":"print","at_m":-1}],"sample_m":null}';
    const lines = refusal(text).split('\n');
    expect(lines).toHaveLength(5);
    expect(lines.every((line) => line.startsWith('press.json: '))).toBe(true);
    expect(lines.at(-1)).toBe('press.json: and 1 more problem');
  });

  test('nothing, the wrong thing, and far too deep a thing', () => {
    expect(refusal('')).toBe('press.json: the file is empty');
    expect(refusal('[]')).toContain('found a list of 0');
    expect(refusal('null')).toContain('found null');
    expect(refusal(`${'['.repeat(100_000)}`)).toBe('press.json: line 1 column 42: nested deeper than 40 levels');
    expect(readPress(`\ufeff${SMALL}`, 'press.json').ok).toBe(true);
  });

  test('any change of any one character is read or refused with a message, never thrown on', () => {
    fc.assert(
      fc.property(
        fc.nat(PRESS_TEXT.length - 1),
        fc.string({ unit: 'binary', minLength: 0, maxLength: 2 }),
        (at, put) => {
          const read = readPress(PRESS_TEXT.slice(0, at) + put + PRESS_TEXT.slice(at + 1), 'press.json');
          if (!read.ok) expect(read.problem.message).toMatch(/^press\.json: ./);
        },
      ),
      { numRuns: 1000 },
    );
  });

  test('refuses exactly what the platform’s own JSON reader refuses, but for what it lets slip', () => {
    fc.assert(
      fc.property(
        fc.json({ maxDepth: 3 }),
        fc.nat(),
        fc.constantFrom('', ',', '"', '}', '0', '\\', '.', '-', 'e'),
        (json, place, put) => {
          const at = place % (json.length + 1);
          const text = json.slice(0, at) + put + json.slice(at);
          let sound = true;
          try {
            JSON.parse(text);
          } catch {
            sound = false;
          }
          const message = refusal(text);
          if (/given twice|is not allowed/.test(message)) return;
          const broken = /: line \d+ column \d+: /.test(message);
          expect(broken || message.endsWith('the file is empty')).toBe(!sound);
        },
      ),
      { numRuns: 500 },
    );
  });
});
