import { describe, expect, test } from 'vitest';
import { handoverHtml } from '../../src/report/handover-html.js';
import { handoverText } from '../../src/report/handover-text.js';
import { chartsOf } from './charts.js';
import { quietShift } from './shifts.js';

// Exact by definition (1959): 1 in = 25.4 mm, 1 ft = 0.3048 m. 21 450 m = 70 374.02 ft; repeat 304.8 mm = 1 ft; 0.03 mm = 1.18 thou = 0.0012 in; 0.15 mm = 5.9 thou.

const inUnits = (register: 'mm' | 'in' | 'thou' | '64ths', length: 'm' | 'ft' | 'repeats') => ({
  ...quietShift,
  board: { ...quietShift.board, units: { register, length } },
});

describe('the job says its units, the report speaks them', () => {
  test('thou and feet', () => {
    const text = handoverText(inUnits('thou', 'ft'));
    expect(text).toContain('Running, at 70 374 ft');
    expect(text).toContain('Last readings against the reference, in thou:');
    expect(text).toMatch(/4 grey +\+1\.2 +holding +0\.0 +holding +± 5\.9/);
  });

  test('inches and repeats', () => {
    const text = handoverText(inUnits('in', 'repeats'));
    expect(text).toContain('Running, at 70 374 repeats');
    expect(text).toContain('reference, in inches:');
    expect(text).toMatch(/4 grey +\+0\.0012 +holding/);
  });

  test('64ths are fractions', () => {
    const text = handoverText(inUnits('64ths', 'm'));
    expect(text).toContain('reference, in 64ths of an inch:');
    expect(text).toMatch(/4 grey +\+0\.1\/64 +holding/);
    expect(text).toMatch(/die +.*± 1\/64/);
  });

  test('the pictures too', () => {
    const view = inUnits('thou', 'ft');
    const html = handoverHtml({ ...view, charts: chartsOf(view) });
    expect(html).toContain('Stations in web order, along, thou');
    expect(html.includes('60 000 ft</text>')).toBe(true);
  });
});
