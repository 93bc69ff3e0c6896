import type { ChartView } from '../../core/views/chart-view.js';
import type { EventStory, HandoverView } from '../../core/views/handover-view.js';

type Stretch = { readonly from_m: number; readonly to_m: number };

/** Product that an early warning kept in register, as against a plain three-sigma chart on the same readings. Metres. */
export type Saved = {
  readonly event: number;
  /** Product that would have been held had nobody turned until the plain chart signalled. */
  readonly plain_m: number;
  /** Product that was held for this movement. */
  readonly held_m: number;
  /** The same two as stretches of web; null = nothing. Stretches of several movements may be the same product. */
  readonly plain: Stretch | null;
  readonly held: Stretch | null;
  /** The plain chart had not signalled by the last reading: the true figure is larger. */
  readonly atLeast: boolean;
};

/**
 * The same readings once more, with what the corrections of the movement did taken out again, up to the first reading beyond a plain chart's
 * three-sigma limits; there the operator would have turned, and it would have taken as far as it really did until a check was good again
 * (nothing turned, or nothing held: to the next check). What would have been held by the same rule as always: after the last reading inside
 * tolerance, up to and including that good check. Only movements of one station with a chart
 * and known limits; others are left out, not counted as zero. An estimate. Example: tolerance 0.15, limits ± 0.18, readings of a drift, every
 * 1 000 m, 0.05 0.10 0.16 0.20 0.21, corrected after the second: held 0; the plain chart would have had 3 000 m.
 */
export const savedByWarning = (view: HandoverView): readonly Saved[] =>
  view.stories.flatMap((story) => {
    const { cause, axis } = story.event;
    if (cause.kind !== 'station' || story.event.how_closed === 'withdrawn') return [];
    const chart = (view.charts ?? []).find((known) => known.station === cause.station && known.axis === axis);
    const saved = chart === undefined ? null : replayed(story, chart, view);
    return saved === null ? [] : [saved];
  });

function replayed(story: EventStory, chart: ChartView, view: HandoverView): Saved | null {
  const { limits_mm, tolerance_mm } = chart;
  if (limits_mm === null) return null;
  const turned = view.corrections.filter(
    ({ result, station, axis, withdrawn }) =>
      !withdrawn && result?.event === story.event.id && station === chart.station && axis === chart.axis,
  );
  const undone = chart.points
    .filter((point) => !point.withdrawn && point.web_m >= story.event.since.web_m)
    .map(({ web_m, mm }) => ({
      web_m,
      mm: mm - turned.reduce((sum, done) => sum + (done.web_m < web_m ? (done.result?.got_mm ?? 0) : 0), 0),
    }));
  if (undone.length === 0) return null;
  const signal = undone.findIndex(({ mm }) => mm < limits_mm.lower || mm > limits_mm.upper);
  const last = signal < 0 ? undone.length - 1 : signal;
  const firstOut = undone.findIndex(({ mm }, index) => index <= last && Math.abs(mm) > tolerance_mm + 1e-9);
  const before = chart.points.findLast((point) => !point.withdrawn && point.web_m < story.event.since.web_m);
  const from = undone[firstOut - 1] ?? before ?? undone[0];
  const [span] = story.suspects.slice(-1);
  const turn_m = turned[0]?.web_m ?? null;
  const asked = turn_m === null ? undefined : chart.points.findLast(({ web_m }) => web_m <= turn_m);
  const next = undone[last + 1] ?? undone[last];
  const till = undone[last];
  const good_m =
    till === undefined || next === undefined
      ? 0
      : asked !== undefined && span?.to != null
        ? till.web_m + Math.max(0, span.to.web_m - asked.web_m)
        : next.web_m;
  const plain_m = firstOut < 0 || from === undefined ? 0 : good_m - from.web_m;
  const end_m = view.board.position.web_m ?? span?.from.web_m ?? 0;
  const held_m = span === undefined ? 0 : Math.max(0, (span.to?.web_m ?? end_m) - span.from.web_m);
  const plain = plain_m > 0 && from !== undefined ? { from_m: from.web_m, to_m: from.web_m + plain_m } : null;
  const held = span !== undefined && held_m > 0 ? { from_m: span.from.web_m, to_m: span.from.web_m + held_m } : null;
  return { event: story.event.id, plain_m, held_m, plain, held, atLeast: signal < 0 };
}

/** Metres that the stretches cover together, each metre once: never more than was made. */
export const coveredM = (stretches: readonly (Stretch | null)[]): number => {
  let sum = 0;
  let end = Number.NEGATIVE_INFINITY;
  for (const { from_m, to_m } of stretches.flatMap((s) => s ?? []).toSorted((a, b) => a.from_m - b.from_m)) {
    sum += Math.max(0, to_m - Math.max(end, from_m));
    end = Math.max(end, to_m);
  }
  return sum;
};
