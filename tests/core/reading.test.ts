import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Axis } from '../../src/core/axis.js';
import { echoKeyed, fromMargins, parseKeyed, parseMargin } from '../../src/core/reading.js';
import type { RegisterUnit } from '../../src/core/units.js';

const keyed = (text: string, unit: RegisterUnit, axis: Axis): { mm: number | null; echo: string } | string => {
  const read = parseKeyed(text, unit, axis);
  return read.ok ? { ...read.value } : read.problem.message;
};

describe('what was keyed in a field', () => {
  test.each([
    ['5a', 'mm', 'along', 0.05, '0.05 AHEAD'],
    ['5 A', 'mm', 'along', 0.05, '0.05 AHEAD'],
    ['A5', 'mm', 'along', 0.05, '0.05 AHEAD'],
    ['ahead 5', 'mm', 'along', 0.05, '0.05 AHEAD'],
    ['+5', 'mm', 'along', 0.05, '0.05 AHEAD'],
    ['5+', 'mm', 'along', 0.05, '0.05 AHEAD'],
    ['+5a', 'mm', 'along', 0.05, '0.05 AHEAD'],
    ['12G', 'mm', 'across', -0.12, '0.12 GEAR SIDE'],
    ['12 o', 'mm', 'across', 0.12, '0.12 OPERATOR SIDE'],
    ['-12', 'mm', 'across', -0.12, '0.12 GEAR SIDE'],
    ['−12', 'mm', 'across', -0.12, '0.12 GEAR SIDE'],
    ['0.05a', 'mm', 'along', 0.05, '0.05 AHEAD'],
    ['0,05b', 'mm', 'along', -0.05, '0.05 BEHIND'],
    [',05b', 'mm', 'along', -0.05, '0.05 BEHIND'],
    ['1.b', 'mm', 'along', -1, '1.00 BEHIND'],
    ['0.125a', 'mm', 'along', 0.125, '0.125 AHEAD'],
    ['100a', 'mm', 'along', 1, '1.00 AHEAD'],
    ['3/64a', 'mm', 'along', 1.190625, '1.1906 (3/64 in) AHEAD'],
    ['5a', 'thou', 'along', 0.127, '5 thou AHEAD'],
    ['2.5b', 'thou', 'along', -0.0635, '2.5 thou BEHIND'],
    ['5a', 'in', 'along', 0.127, '0.005 in AHEAD'],
    ['.005a', 'in', 'along', 0.127, '0.005 in AHEAD'],
    ['0,0075a', 'in', 'along', 0.1905, '0.0075 in AHEAD'],
    ['3a', '64ths', 'along', 1.190625, '3/64 in AHEAD'],
    ['3/64a', '64ths', 'along', 1.190625, '3/64 in AHEAD'],
    ['1/32g', '64ths', 'across', -0.79375, '2/64 in GEAR SIDE'],
    ['2.5o', '64ths', 'across', 0.9921875, '2.5/64 in OPERATOR SIDE'],
    ['1.42a\r', 'mm', 'along', 1.42, '1.42 AHEAD'],
  ] as const)('%j in a %s job, %s', (text, unit, axis, mm, echo) => {
    const read = keyed(text, unit, axis);
    if (typeof read === 'string') throw new Error(read);
    expect(read.mm).toBeCloseTo(mm, 9);
    expect(read.echo).toBe(echo);
  });

  test('zero needs no side, blank is not read', () => {
    expect(keyed('0', 'mm', 'along')).toEqual({ mm: 0, echo: '0.00' });
    expect(keyed('0.00', 'mm', 'across')).toEqual({ mm: 0, echo: '0.00' });
    expect(keyed('-0', 'mm', 'along')).toEqual({ mm: 0, echo: '0.00' });
    expect(keyed('  ', 'mm', 'along')).toEqual({ mm: null, echo: 'not read' });
  });

  test.each([
    ['5', 'along', '0.05: which side? Add A ahead or B behind'],
    ['5', 'across', '0.05: which side? Add O operator side or G gear side'],
    ['5g', 'along', '"G" is no side along; use A ahead or B behind'],
    ['5a', 'across', '"A" is no side across; use O operator side or G gear side'],
    ['+5b', 'along', 'two sides at once (+ and B); use A ahead or B behind'],
    ['a', 'along', 'no number; key how much, or leave the field blank for "not read"'],
    ['NaN', 'along', '"NaN" is not a reading; key a number and its side, as 5A (ahead) or 5B (behind)'],
    ['1e9a', 'along', '"1e9a" is not a reading; key a number and its side, as 5A (ahead) or 5B (behind)'],
    ['5x', 'across', '"5x" is not a reading; key a number and its side, as 5O (operator side) or 5G (gear side)'],
    ['99999a', 'along', '999.99 is more than 50 mm; key it again'],
    ['1.2.3a', 'along', '"1.2.3" is not a number'],
    ['3/0a', 'along', '"3/0" is not a number'],
    ['3/63a', 'along', '"3/63" is not a number'],
    ['\u001b[2J5a', 'along', '"<1B>[2J5a" is not a reading; key a number and its side, as 5A (ahead) or 5B (behind)'],
  ] as const)('%j %s is refused', (text, axis, message) => {
    expect(keyed(text, 'mm', axis)).toBe(message);
  });

  test('while typing, the field says what is still missing', () => {
    expect(['', '1', '12', '12g'].map((text) => echoKeyed(text, 'mm', 'across'))).toEqual([
      '',
      '0.01, O operator side or G gear side?',
      '0.12, O operator side or G gear side?',
      '0.12 GEAR SIDE',
    ]);
    expect(['b', 'b3', 'b3/', 'b3/6', 'b3/64'].map((text) => echoKeyed(text, '64ths', 'along'))).toEqual([
      'how much BEHIND?',
      '3/64 in BEHIND',
      '3/…',
      'not a number',
      '3/64 in BEHIND',
    ]);
    expect(echoKeyed('5g', 'mm', 'along')).toBe('side? A ahead or B behind');
    expect(echoKeyed('99999a', 'mm', 'along')).toBe('more than 50 mm');
    expect(echoKeyed('zz', 'mm', 'along')).toBe('not a number');
  });

  test('whole digits count the job’s small step, on both sides alike', () => {
    const step: Readonly<Record<RegisterUnit, number>> = { mm: 0.01, thou: 0.0254, in: 0.0254, '64ths': 25.4 / 64 };
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 120 }),
        fc.constantFrom<RegisterUnit>('mm', 'in', 'thou', '64ths'),
        (n, unit) => {
          const ahead = parseKeyed(`${n}a`, unit, 'along');
          const behind = parseKeyed(`b${n}`, unit, 'along');
          expect(ahead.ok && ahead.value.mm).toBeCloseTo(n * step[unit], 8);
          expect(behind.ok && behind.value.mm).toBeCloseTo(-n * step[unit], 8);
        },
      ),
    );
  });

  test('any text whatever is read or refused, never thrown on, and never read as more than 50 mm', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'binary', maxLength: 12 }),
        fc.constantFrom<Axis>('along', 'across'),
        (text, axis) => {
          const read = parseKeyed(text, 'mm', axis);
          echoKeyed(text, 'mm', axis);
          if (read.ok && read.value.mm !== null) expect(Math.abs(read.value.mm)).toBeLessThanOrEqual(50);
        },
      ),
    );
  });

  test('the die by its margins: half the difference, + = cut ahead', () => {
    expect(fromMargins(3.2, 2.8)).toBeCloseTo(0.2, 12);
    expect(fromMargins(2.8, 3.2)).toBeCloseTo(-0.2, 12);
    expect(parseMargin('320', 'mm')).toEqual({ ok: true, value: { mm: 3.2, echo: '3.20' } });
    expect(parseMargin('3,2', 'mm')).toEqual({ ok: true, value: { mm: 3.2, echo: '3.20' } });
    expect(parseMargin('', 'mm')).toEqual({ ok: true, value: { mm: null, echo: 'not read' } });
    expect(parseMargin('3a', 'mm').ok).toBe(false);
    // Geometry: a cut that moves by x adds x to one margin and takes it from the other.
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 5, noNaN: true }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        (margin, x) => {
          expect(fromMargins(margin + x, margin - x)).toBeCloseTo(x, 12);
        },
      ),
    );
  });
});
