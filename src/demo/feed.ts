import type { Axis } from '../core/axis.js';
import type { CheckId, RecordBody } from '../core/record.js';
import type { RunState } from '../core/run/state.js';
import { stationsOf } from '../core/run/stations.js';
import { printedAt } from '../core/web.js';

/** One recorded fact and when it happened, ms. */
export type Recorded = { readonly body: RecordBody; readonly at_ms: number; readonly by: string };

/** What the person at the keys has turned that the recording knows nothing of, and what of the recording is left out for it. */
export type Meddled = {
  readonly turns: readonly {
    readonly station: string;
    readonly axis: Axis;
    readonly mm: number;
    readonly web_m: number;
  }[];
  readonly checks: ReadonlyMap<CheckId, CheckId>;
};

export const untouched: Meddled = { turns: [], checks: new Map() };

/** A move keyed at the board is obeyed by the recorded press: every sample printed after it carries it. */
export const turnedByHand = (meddled: Meddled, body: Extract<RecordBody, { type: 'correction' }>): Meddled => ({
  ...meddled,
  turns: [...meddled.turns, { station: body.station, axis: body.axis, mm: body.move_mm, web_m: body.web_m }],
});

/** A recorded move that somebody at the keys has already made is left out, and its effect with it. */
const LOOK_BACK_M = 4000;

export const fitRecorded = (
  state: RunState,
  meddled: Meddled,
  body: RecordBody,
): { readonly body: RecordBody | null; readonly meddled: Meddled } => {
  const reached = state.judged.web.keyed_ms === null ? -Infinity : state.judged.web.base_m;
  if (state.judged.phase === 'ended') return { body: null, meddled };
  if (body.type === 'correction') {
    const made = meddled.turns.some(
      (t) =>
        t.station === body.station &&
        t.axis === body.axis &&
        Math.sign(t.mm) === Math.sign(body.move_mm) &&
        body.web_m - t.web_m < LOOK_BACK_M &&
        t.mm !== 0,
    );
    if (!made) return { body, meddled };
    return {
      body: null,
      meddled: {
        ...meddled,
        turns: [...meddled.turns, { station: body.station, axis: body.axis, mm: -body.move_mm, web_m: body.web_m }],
      },
    };
  }
  if (body.type === 'pull' || body.type === 'check') {
    const id = meddled.checks.get(body.check) ?? state.next_check;
    const checks = new Map(meddled.checks).set(body.check, id);
    const web_m = Math.max(body.web_m, body.type === 'pull' ? reached : -Infinity);
    const numbered = { ...body, check: id, web_m };
    return {
      body: numbered.type === 'check' ? withTurns(state, meddled, numbered) : numbered,
      meddled: { ...meddled, checks },
    };
  }
  return {
    body: 'web_m' in body && body.web_m !== null && body.web_m < reached ? { ...body, web_m: reached } : body,
    meddled,
  };
};

const withTurns = (state: RunState, meddled: Meddled, check: Extract<RecordBody, { type: 'check' }>): RecordBody => {
  if (meddled.turns.length === 0) return check;
  const stations = stationsOf(state.press, state.job);
  const by = (id: string, axis: Axis): number => {
    const at_m = stations.find((s) => s.id === id)?.at_m ?? 0;
    return meddled.turns
      .filter(
        (t) => t.station === id && t.axis === axis && t.web_m <= printedAt(check.web_m, state.press.sample_m, at_m),
      )
      .reduce((sum, t) => sum + t.mm, 0);
  };
  const shift = (id: string, axis: Axis, mm: number | null): number | null =>
    mm === null || id === state.judged.reference
      ? mm
      : Math.round((mm + by(id, axis) - by(state.judged.reference, axis)) * 1000) / 1000;
  return {
    ...check,
    readings: check.readings.map((r) => ({
      ...r,
      along_mm: shift(r.station, 'along', r.along_mm),
      across_mm: shift(r.station, 'across', r.across_mm),
    })),
  };
};
