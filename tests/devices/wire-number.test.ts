import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { wireNumber } from '../../src/devices/wire-number.js';

describe('a number as a sensor writes it', () => {
  it.each([
    ['+0.012', 0.012],
    ['-0.034', -0.034],
    ['  7 ', 7],
    ['.5', 0.5],
    ['5.', 5],
    ['+1.20E-02', 0.012],
    ['-4e0', -4],
    ['0000000000000000000.1', 0.1],
    ['9.91E37', 9.91e37],
    ['', null],
    ['   ', null],
    ['NaN', undefined],
    ['Infinity', undefined],
    ['1e999', undefined],
    ['0x10', undefined],
    ['1,000', undefined],
    ['1.2.3', undefined],
    ['+-1', undefined],
    ['1 2', undefined],
    ['+', undefined],
    ['.', undefined],
    ['1e', undefined],
    ['1'.repeat(25), undefined],
  ])('%j is %j', (text, value) => {
    expect(wireNumber(text, '.')).toBe(value);
  });
  it('takes the decimal comma only where the profile says so', () => {
    expect(wireNumber('-0,034', ',')).toBe(-0.034);
    expect(wireNumber('-0.034', ',')).toBe(undefined);
    expect(wireNumber('+1,20E-02', ',')).toBe(0.012);
    expect(wireNumber('1.0,5', ',')).toBe(undefined);
  });
  it('agrees with Number() to the last bit on every plain decimal', () => {
    fc.assert(
      fc.property(fc.bigInt({ min: -(10n ** 15n), max: 10n ** 15n }), fc.nat({ max: 6 }), (n, places) => {
        const digits = (n < 0n ? -n : n).toString().padStart(places + 1, '0');
        const text = `${n < 0n ? '-' : ''}${digits.slice(0, digits.length - places)}.${digits.slice(digits.length - places)}`;
        return wireNumber(text, '.') === Number(text) || (Number(text) === 0 && wireNumber(text, '.') === 0);
      }),
      { numRuns: 2000 },
    );
  });
});
