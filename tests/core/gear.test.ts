import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { toothMm } from '../../src/core/gear.js';

const mm = (gear: string): number => {
  const read = toothMm(gear);
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
};
const refusal = (gear: string): string => {
  const read = toothMm(gear);
  return read.ok ? `accepted as ${read.value}` : read.problem.message;
};

describe('gear systems by name', () => {
  // Definitions: F. Burgos, "CP versus DP", FlexoExchange: repeat = teeth × CP; CP = pi / DP = pi × module. Values worked from them.
  test.each([
    ['1/8 in CP', 3.175],
    ['1/4 in CP', 6.35],
    ['10 DP', 7.97965],
    ['20 DP', 3.98982],
    ['32 DP', 2.49364],
    // biome-ignore lint/suspicious/noApproximativeNumericConstant: the table's own figure, not ours
    ['module 1', 3.14159],
    ['module 5', 15.70796],
    ['10 mm CP', 10],
    ['5 mm CP', 5],
    ['4 teeth/cm', 2.5],
  ])('%s is %d mm a tooth', (gear, tooth) => {
    expect(mm(gear)).toBeCloseTo(tooth, 5);
  });

  test.each([
    ['1/8" CP', 3.175],
    ['1/8 CP', 3.175],
    ['0.125 inch CP', 3.175],
    ['  1/8  IN  cp ', 3.175],
    ['DP 10', 7.97965],
    ['10DP', 7.97965],
    ['5 mm module', 15.70796],
    ['m 5', 15.70796],
    ['3.175 mm per tooth', 3.175],
    ['3.175 mm', 3.175],
    ['8 teeth per inch', 3.175],
  ])('%s is understood too', (gear, tooth) => {
    expect(mm(gear)).toBeCloseTo(tooth, 5);
  });

  test('the published impression drum: 754 teeth of 1/4 in CP are 188.5 in round', () => {
    // FTA/FFTA, Flexography: Principles & Practices, 5th ed. 1999, "Dual-gear Systems".
    expect((754 * mm('1/4 in CP')) / 25.4).toBeCloseTo(188.5, 10);
  });

  test('repeats of 96 teeth', () => {
    // Worked from the definitions: z × p.
    expect(96 * mm('1/8 in CP')).toBeCloseTo(304.8, 9);
    expect((96 * mm('10 DP')) / 25.4).toBeCloseTo(30.1593, 4);
    expect(96 * mm('module 1')).toBeCloseTo(301.593, 3);
  });

  test('three teeth of 1/8 in CP are 3/8 in (common practice, no source)', () => {
    expect(3 * mm('1/8 in CP')).toBeCloseTo((3 / 8) * 25.4, 12);
  });

  test('a bare pitch is asked back, not guessed', () => {
    const asked =
      'gear "32 pitch" can mean two things: write "32 DP" (2.49 mm a tooth) or "1/32 in CP" (0.79 mm a tooth)';
    expect(refusal('32 pitch')).toBe(asked);
    expect(refusal('32')).toBe(asked.replace('"32 pitch"', '"32"'));
  });

  test.each(['', 'helical', '0 DP', '1/0 in CP', 'module 1e9', '-1 mm', '0.001 mm CP', '500 mm', '10 DP 5'])(
    '%j is refused',
    (gear) => {
      expect(toothMm(gear).ok).toBe(false);
    },
  );

  test('DP and module agree with CP for every pitch', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 60 }), (n) => {
        expect(mm(`${n} DP`)).toBeCloseTo(Math.PI * (25.4 / n), 9);
        if (n <= 30) expect(mm(`module ${n}`)).toBeCloseTo(mm(`${(n * Math.PI).toFixed(12)} mm CP`), 9);
      }),
    );
  });
});
