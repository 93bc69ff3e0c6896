import type { LogRecord } from '../record.js';
import type { RunState, Trail } from '../run/state.js';
import { anyOut } from './out-of-register.js';

/** One check of the whole run; `out`: something was outside tolerance as last read; `withdrawn` = taken back later. */
export type WholeTrail = readonly (Trail & { readonly out: boolean; readonly withdrawn: boolean })[];

/** Keeps the readings of every check while a log is folded: the state itself remembers only the last few hundred. */
export type TrailKeeper = {
  /** Each record, with the state after it. */
  take(record: LogRecord, after: RunState): void;
  /** All checks so far, in the order of their keying, web positions counted from OK to run. */
  trail(): WholeTrail;
  kept(): TrailKept;
};

/** What is kept as plain JSON, so that it can be gone on with. */
export type TrailKept = {
  readonly checks: readonly {
    readonly trail: Trail;
    readonly seq: number;
    readonly out: boolean;
    readonly withdrawn: boolean;
  }[];
  /** OK to run was given. */
  readonly passed: boolean;
};

/** Costs the same for each check, however long the run. */
export const keepTrail = (from: TrailKept = { checks: [], passed: false }): TrailKeeper => {
  const kept: { trail: Trail; seq: number; out: boolean; withdrawn: boolean }[] = from.checks.map((one) => ({
    ...one,
  }));
  let { passed } = from;
  const takeBack = (is: (one: (typeof kept)[number]) => boolean): void => {
    const one = kept.findLast((k) => !k.withdrawn && is(k));
    if (one !== undefined) one.withdrawn = true;
  };
  return {
    take: (record, after) => {
      if (record.type === 'check') {
        const trail = after.judged.trail.findLast((t) => t.check === record.check);
        if (trail !== undefined)
          kept.push({ trail, seq: record.seq, out: anyOut(after.job, after.judged), withdrawn: false });
      } else if (record.type === 'withdraw') {
        if (record.check !== null) takeBack((k) => k.trail.check === record.check);
        if (record.entry !== null) takeBack((k) => k.seq === record.entry);
      } else if (record.type === 'ok' && !passed) {
        passed = true;
        const zero_m = record.zero_m ?? 0;
        if (zero_m !== 0) for (const k of kept) k.trail = { ...k.trail, web_m: k.trail.web_m - zero_m };
      }
    },
    kept: () => ({ checks: kept, passed }),
    trail: () => kept.map(({ trail, out, withdrawn }) => ({ ...trail, out, withdrawn })),
  };
};
