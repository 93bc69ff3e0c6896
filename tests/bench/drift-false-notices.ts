import type { Seen } from '../../src/core/drift/seen.js';
import { initial, step } from '../../src/core/drift/watch.js';
import { configOf, readPress, SEVEN, type SimPress } from '../support/press-sim.js';
import { seeded } from '../support/seeded.js';

const RUN = 250;

const row = (stations: number, reference = 0): SimPress => ({
  ...SEVEN,
  at_m: Array.from({ length: stations }, (_, i) => 1.5 + 1.2 * i),
  reference,
});

export type FalseNotices = { readonly checks: number; readonly notices: number };

/** New movements found while nothing moved, over seeded runs of 250 checks; `from`: checks at the start of each run that are not counted. */
export const falseNotices = (
  press: SimPress,
  asked: number,
  checks: number,
  reads: (station: number, check: number) => boolean = () => true,
  believed_mm?: number,
  from = 0,
  seed = 5,
): FalseNotices => {
  const config = configOf(press, asked, believed_mm);
  const random = seeded(seed);
  let counted = 0;
  let notices = 0;
  while (counted < checks) {
    let state = initial(config);
    for (let check = 1; check <= RUN; check++) {
      const before = state.nextKey;
      const seen = readPress(press, random, check, { along: () => 0, across: () => 0 }, (k) => reads(k, check));
      state = step(config, state, seen).state;
      if (check <= from) continue;
      counted += 1;
      notices += state.nextKey - before;
    }
  }
  return { checks: counted, notices };
};

/** The same held to the passed sample: one reading of each station is its aim, and is taken off all that come after. */
export const falseNoticesHeldToSample = (press: SimPress, asked: number, checks: number, seed = 5): FalseNotices => {
  const config = { ...configOf(press, asked), aims_read: true, stands_off: true };
  const random = seeded(seed);
  const still = { along: () => 0, across: () => 0 };
  let notices = 0;
  let counted = 0;
  while (counted < checks) {
    const aim = readPress(press, random, 0, still);
    const against = (axis: 'along' | 'across', seen: Seen): Seen['along'] => ({
      ...seen[axis],
      read: seen[axis].read.map((mm, k) => (mm === null ? null : mm - (aim[axis].read[k] ?? 0))),
    });
    let state = initial(config);
    for (let check = 1; check <= RUN; check++) {
      const before = state.nextKey;
      const seen = readPress(press, random, check, still);
      state = step(config, state, { ...seen, along: against('along', seen), across: against('across', seen) }).state;
      notices += state.nextKey - before;
    }
    counted += RUN;
  }
  return { checks: counted, notices };
};

export const benchFalseNotices = (expected: number): readonly string[] => {
  const lines = ['False notices against asked (1 = as asked; 0.7 to 1.5 wanted)'];
  const add = (what: string, asked: number, f: FalseNotices): void => {
    const rate = (f.notices / f.checks) * asked;
    lines.push(
      `${what.padEnd(52)} asked ${String(asked).padStart(5)}   x ${rate.toFixed(2)} ± ${(rate / Math.sqrt(Math.max(1, f.notices))).toFixed(2)}`,
    );
  };
  for (const n of [3, 5, 7, 9, 12]) add(`${n} stations`, 200, falseNotices(row(n), 200, 200 * expected));
  add('7 stations, reference in the middle', 200, falseNotices(row(7, 3), 200, 200 * expected));
  add('7 stations, no die (6)', 200, falseNotices({ ...SEVEN, at_m: SEVEN.at_m.slice(0, 6) }, 200, 200 * expected));
  add(
    '7 stations, a third not read each time',
    200,
    falseNotices(SEVEN, 200, 200 * expected, (k, t) => (k + t) % 3 !== 0),
  );
  add(
    '7 stations, two read only',
    200,
    falseNotices(SEVEN, 200, 200 * expected, (k) => k === 2 || k === 5),
  );
  for (const asked of [100, 500, 1000]) add('7 stations', asked, falseNotices(SEVEN, asked, asked * expected));
  add(
    'scatter twice what was believed, after 20 checks',
    200,
    falseNotices(SEVEN, 200, 200 * expected, undefined, 0.02, 20),
  );
  add(
    'scatter half of what was believed, after 20 checks',
    200,
    falseNotices(SEVEN, 200, 200 * expected, undefined, 0.08, 20),
  );
  add('7 stations, held to the passed sample', 200, falseNoticesHeldToSample(SEVEN, 200, 200 * expected));
  add('12 stations, held to the passed sample', 200, falseNoticesHeldToSample(row(12), 200, 200 * expected));
  return lines;
};
