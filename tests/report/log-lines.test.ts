import { expect, test } from 'vitest';
import { handoverText } from '../../src/report/handover-text.js';
import { quietShift } from './shifts.js';

const rolls = (count: number) =>
  Array.from({ length: count }, (_, index) => ({
    at: '2026-05-12T07:10:00Z',
    by: 'MK',
    roll_off: true as const,
    web_m: 1_500 * (index + 1),
    words: `Finished roll ${index + 1} off at ${1_500 * (index + 1)} m`,
  }));
const logOf = (view: typeof quietShift): string =>
  handoverText(view).split('9 WHAT ELSE HAPPENED')[1]?.split('10 SIGN-OFF')[0] ?? '';

test('many rolls off are told as one line, a few each for itself, and nothing else is dropped', () => {
  const many = logOf({ ...quietShift, log: [...quietShift.log, ...rolls(49)] }).replace(/\s+/g, ' ');
  expect(many).toContain('49 finished rolls came off in this time, the last: Finished roll 49 off at 73500 m');
  expect(many).not.toContain('Finished roll 48');
  expect(many).toContain('new stock roll spliced in');
  expect(logOf({ ...quietShift, log: rolls(4) }).match(/Finished roll/g)?.length).toBe(4);
});

test('of very many lines the newest are kept and the others counted', () => {
  const log = Array.from({ length: 200 }, (_, index) => ({
    at: '2026-05-12T07:10:00Z',
    by: 'MK',
    web_m: null,
    words: `Speed ${index} m/min`,
  }));
  const text = logOf({ ...quietShift, log });
  expect(text).toContain('140 earlier lines are in the run log');
  expect(text).toContain('Speed 199 m/min');
  expect(text).not.toContain('Speed 139 m/min');
});
