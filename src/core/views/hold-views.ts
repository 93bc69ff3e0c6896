import { labelsIn } from '../hold/labels-in.js';
import type { HoldState } from '../record.js';
import { type HeldPart, type HeldReason, heldStretches, partState } from '../run/held.js';
import type { RunState } from '../run/state.js';
import { eventNames } from './event-names.js';
import { whyWords } from './hold-why.js';
import { wasMisread } from './misread.js';

/** Product to hold without a gap in it: what overlaps is one, what only touches is not. */
export type HoldSpan = {
  readonly from_m: number;
  /** null = still open. */
  readonly to_m: number | null;
  readonly rolls: readonly string[];
  readonly labels: number | null;
  readonly why: readonly string[];
  /** The same roll by roll, in web order; together they are the whole of it. */
  readonly parts: readonly HeldRoll[];
};

/** The held part of one roll, for its own reasons, and how it stands; `at` and `by` null = nobody has touched it since it was held. */
export type HeldRoll = {
  readonly roll: string;
  readonly from_m: number;
  readonly to_m: number | null;
  readonly labels: number;
  readonly why: readonly string[];
  readonly state: HoldState;
  readonly at: string | null;
  readonly by: string | null;
  readonly by_second: string | null;
  readonly note: string | null;
};

/** Product to hold, stretch by stretch and roll by roll; what stands open reaches to where the web is. */
export const holdSpans = (state: RunState): readonly HoldSpan[] => {
  const names = eventNames(state);
  const count = {
    repeat_m: names.repeat_mm / 1000,
    around: state.job.labels_around,
    across: state.job.labels_across,
  };
  const ids = new Map(state.said.events.map((e) => [e.key, e.id]));
  const why = (reasons: HeldPart['reasons']): readonly string[] => [
    ...new Set(
      reasons.map((reason) => whyWords(reason, names, (key) => ids.get(key) ?? key, isMisread(state, reason))),
    ),
  ];
  const here_m = Math.max(state.judged.last_check?.web_m ?? 0, state.judged.web.base_m);
  const labels = (from_m: number, to_m: number | null): number => labelsIn((to_m ?? here_m) - from_m, count);
  const rollOf = (part: HeldPart): HeldRoll => {
    const { state: stands, set } = partState(state, part);
    return {
      roll: part.roll,
      from_m: part.from_m,
      to_m: part.to_m,
      labels: labels(part.from_m, part.to_m),
      why: why(part.reasons),
      state: stands,
      at: set?.at ?? null,
      by: set?.by ?? null,
      by_second: set?.by_second ?? null,
      note: set?.note ?? null,
    };
  };
  return heldStretches(state).map((stretch) => ({
    from_m: stretch.from_m,
    to_m: stretch.to_m,
    rolls: stretch.rolls,
    labels: labels(stretch.from_m, stretch.to_m),
    why: why(stretch.reasons),
    parts: stretch.parts.map(rollOf),
  }));
};

/** Whether what a stretch is held for was disproved by another label of its sample. */
export const isMisread = ({ judged }: RunState, reason: HeldReason): boolean =>
  reason.kind === 'print' &&
  reason.axis !== 'plate' &&
  reason.good !== null &&
  wasMisread(
    judged,
    reason.axis,
    reason.out.map((one) => one.web_m),
    reason.good.web_m,
  );

/** Whether some of it still waits for somebody: on hold, or being re-inspected. */
export const isOpenHold = (span: Pick<HoldSpan, 'parts'>): boolean =>
  span.parts.some(({ to_m, state }) => to_m === null || state === 'hold' || state === 're-inspect');
