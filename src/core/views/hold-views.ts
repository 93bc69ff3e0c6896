import { mergeSpans } from '../hold/merge-spans.js';
import { repeatMm } from '../job.js';
import { heldState } from '../run/held.js';
import type { RunState } from '../run/state.js';
import { labelOf, stationsOf } from '../run/stations.js';
import { eventNames } from './event-names.js';
import type { HoldSpan, RollTag } from './handover-view.js';
import { lengthWords, wholeWords } from './number-words.js';

/** Product to hold with overlaps made one; what stands open reaches to the last check. */
export const holdSpans = (state: RunState): readonly HoldSpan[] => {
  const { judged } = state;
  const count = {
    repeat_m: repeatMm(state.press, state.job) / 1000,
    around: state.job.labels_around,
    across: state.job.labels_across,
  };
  const labels = new Map(stationsOf(state.press, state.job).map((s) => [s.id, labelOf(s)]));
  const ids = new Map(state.said.events.map((e) => [e.key, e.id]));
  const spans = [
    ...judged.movements.flatMap((m) =>
      m.suspect === null || m.closed?.how === 'withdrawn'
        ? []
        : [
            {
              ...m.suspect,
              events: [ids.get(m.key) ?? m.key],
              stations:
                m.cause.kind === 'station'
                  ? [m.cause.station]
                  : m.cause.kind === 'several'
                    ? [...m.cause.stations]
                    : [],
              why: `movement ${ids.get(m.key) ?? m.key}`,
            },
          ],
    ),
    ...lastOfEach(judged.plate_suspects).map((p) => ({
      ...p,
      events: [],
      stations: [p.station],
      why: `plate ${labels.get(p.station) ?? p.station} dirty`,
    })),
  ];
  const merged = mergeSpans(spans, count, judged.last_check?.web_m ?? 0);
  return merged.map((span) => {
    const from_m = span.from.web_m;
    const to_m = span.to?.web_m ?? null;
    const tags = span.rolls.map((roll) => tagOf(state, roll, from_m, to_m));
    return {
      from_m,
      to_m,
      rolls: span.rolls,
      labels: span.labels,
      why: spans.filter((s) => s.from.web_m >= from_m && (to_m === null || s.from.web_m <= to_m)).map((s) => s.why),
      ...(tags.some((tag) => tag.at !== null) ? { tags } : {}),
    };
  });
};

const tagOf = (state: RunState, roll: string, from_m: number, to_m: number | null): RollTag => {
  const { state: stands, set } = heldState(state, roll, from_m, to_m ?? Infinity);
  return {
    roll,
    state: stands,
    at: set?.at ?? null,
    by: set?.by ?? null,
    by_second: set?.by_second ?? null,
    note: set?.note ?? null,
  };
};

/** Whether some of it still waits for somebody: on hold, or being re-inspected. */
export const isOpenHold = (span: HoldSpan): boolean =>
  span.tags === undefined ||
  span.to_m === null ||
  span.tags.some((t) => t.state === 'hold' || t.state === 're-inspect');

/** One sentence a stretch, for the board. */
export const holdSentences = (state: RunState): readonly { readonly sentence: string; readonly open: boolean }[] => {
  const names = eventNames(state);
  const at = (m: number): string => lengthWords(m, names.length, names.repeat_mm);
  return holdSpans(state)
    .filter(isOpenHold)
    .map((span) => ({
      open: span.to_m === null,
      sentence: `Hold ${span.rolls.length === 0 ? 'product' : `finished ${span.rolls.length === 1 ? 'roll' : 'rolls'} ${span.rolls.join(', ')}`}: ${at(span.from_m)} to ${span.to_m === null ? 'now' : at(span.to_m)}${span.labels === null ? '' : `, ${wholeWords(span.labels)} labels${span.to_m === null ? ' so far' : ''}`}.`,
    }));
};

const lastOfEach = <T extends { readonly key: string }>(spans: readonly T[]): readonly T[] => [
  ...new Map(spans.map((s) => [s.key, s])).values(),
];
