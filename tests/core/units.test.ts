import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  formatLength,
  formatRegister,
  type LengthUnit,
  lengthFromM,
  lengthToM,
  type RegisterUnit,
  registerFromMm,
  registerToMm,
} from '../../src/core/units.js';

const UNITS: readonly RegisterUnit[] = ['mm', 'in', 'thou', '64ths'];
const LENGTHS: readonly LengthUnit[] = ['m', 'ft', 'repeats'];
const millimetres = fc.double({ min: -50, max: 50, noNaN: true });

describe('units', () => {
  // 1 in = 25.4 mm and 1 ft = 0.3048 m exactly: international yard and pound agreement, 1959 (NIST Handbook 44, appendix C).
  test('inch, thou, 64th and foot are exact', () => {
    expect(registerToMm(1, 'in')).toBe(25.4);
    expect(registerToMm(1000, 'thou')).toBe(25.4);
    expect(registerToMm(64, '64ths')).toBe(25.4);
    expect(registerToMm(1, '64ths')).toBe(0.396875);
    expect(registerFromMm(25.4, 'thou')).toBe(1000);
    expect(lengthToM(1, 'ft', 300)).toBe(0.3048);
    expect(lengthFromM(304.8, 'ft', 300)).toBeCloseTo(1000, 10);
    expect(lengthFromM(304.8, 'repeats', 304.8)).toBe(1000);
  });

  test('there and back is the same value', () => {
    fc.assert(
      fc.property(millimetres, fc.constantFrom(...UNITS), (mm, unit) => {
        expect(Math.abs(registerToMm(registerFromMm(mm, unit), unit) - mm)).toBeLessThanOrEqual(1e-13);
      }),
    );
    fc.assert(
      fc.property(
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        fc.constantFrom(...LENGTHS),
        fc.double({ min: 50, max: 2000, noNaN: true }),
        (m, unit, repeat) => {
          expect(Math.abs(lengthToM(lengthFromM(m, unit, repeat), unit, repeat) - m)).toBeLessThanOrEqual(1e-8);
        },
      ),
    );
  });

  test('a shown register value is within half its last digit, its sign right', () => {
    const half: Readonly<Record<RegisterUnit, number>> = { mm: 0.005, in: 0.00005, thou: 0.05, '64ths': 0.05 };
    fc.assert(
      fc.property(millimetres, fc.constantFrom(...UNITS), (mm, unit) => {
        const shown = formatRegister(mm, unit, { sign: 'sign' });
        const value = Number(shown.replace('/64', ''));
        expect(Math.abs(value - registerFromMm(mm, unit))).toBeLessThanOrEqual(half[unit] * 1.0001);
        expect(shown).not.toMatch(/^[+-]0(\.0+)?(\/64)?$/);
      }),
    );
  });

  test.each([
    [0.05, 'mm', '+0.05', '0.05 AHEAD'],
    [-0.12, 'mm', '-0.12', '0.12 BEHIND'],
    [0.004, 'mm', '0.00', '0.00'],
    [-0.004, 'mm', '0.00', '0.00'],
    [0.127, 'thou', '+5.0', '5.0 thou AHEAD'],
    [-0.127, 'in', '-0.0050', '0.0050 in BEHIND'],
    [1.190625, '64ths', '+3/64', '3/64 in AHEAD'],
    [-0.2, '64ths', '-0.5/64', '0.5/64 in BEHIND'],
    [0, '64ths', '0', '0'],
  ] as const)('%d mm in %s is %s and %s', (mm, unit, sign, word) => {
    expect(formatRegister(mm, unit, { sign: 'sign' })).toBe(sign);
    expect(formatRegister(mm, unit, { sign: 'word', axis: 'along' })).toBe(word);
  });

  test('across, the sides are operator and gear', () => {
    expect(formatRegister(0.05, 'mm', { sign: 'word', axis: 'across' })).toBe('0.05 OPERATOR SIDE');
    expect(formatRegister(-0.05, 'mm', { sign: 'word', axis: 'across' })).toBe('0.05 GEAR SIDE');
  });

  test.each([
    [21450, 'm', '21 450 m'],
    [-340.4, 'm', '-340 m'],
    [-0.2, 'm', '0 m'],
    [304.8, 'ft', '1 000 ft'],
    [304.8, 'repeats', '1 000 repeats'],
    [999.6, 'm', '1 000 m'],
    [1234567, 'm', '1 234 567 m'],
  ] as const)('%d m in %s is %s', (m, unit, shown) => {
    expect(formatLength(m, unit, 304.8)).toBe(shown);
  });
});
