import type { Place } from '../finding.js';
import { type LabelCount, labelsIn } from './labels-in.js';

/** A stretch of product; `to` null = still open. `stations`: whose print it is held for. */
export type HoldSpan = {
  readonly from: Place;
  readonly to: Place | null;
  readonly rolls: readonly string[];
  readonly labels: number;
  readonly events: readonly number[];
  readonly stations: readonly string[];
};

/**
 * The stretches as the floor needs them: those that overlap or touch made one, in web order, labels counted once. For reports;
 * open ones count to `now_m`.
 */
export const mergeSpans = (spans: readonly HoldSpan[], count: LabelCount, now_m: number): readonly HoldSpan[] => {
  const merged: HoldSpan[] = [];
  for (const span of spans.toSorted((a, b) => a.from.web_m - b.from.web_m)) {
    const last = merged.at(-1);
    if (last === undefined || span.from.web_m > endOf(last, now_m)) merged.push(span);
    else merged[merged.length - 1] = joined(last, span, count, now_m);
  }
  return merged;
};

const endOf = (span: HoldSpan, now_m: number): number => span.to?.web_m ?? now_m;

const joined = (a: HoldSpan, b: HoldSpan, count: LabelCount, now_m: number): HoldSpan => {
  const longer = endOf(b, now_m) > endOf(a, now_m) ? b : a;
  const to = a.to === null || b.to === null ? null : longer.to;
  return {
    from: a.from,
    to,
    rolls: [...new Set([...a.rolls, ...b.rolls])],
    labels: labelsIn((to?.web_m ?? now_m) - a.from.web_m, count),
    events: [...new Set([...a.events, ...b.events])],
    stations: [...new Set([...a.stations, ...b.stations])],
  };
};
