import { mergeSpans } from '../hold/merge-spans.js';
import type { RunState } from '../run/state.js';
import { labelOf, stationsOf } from '../run/stations.js';
import { eventNames } from './event-names.js';
import type { HoldSpan } from './handover-view.js';
import { lengthWords, wholeWords } from './number-words.js';

/** Product to hold with overlaps made one; what stands open reaches to the last check. */
export const holdSpans = (state: RunState): readonly HoldSpan[] => {
  const { judged } = state;
  const count = {
    repeat_m: (state.job.repeat_teeth * state.press.tooth_mm) / 1000,
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
  return merged.map((span) => ({
    from_m: span.from.web_m,
    to_m: span.to?.web_m ?? null,
    rolls: span.rolls,
    labels: span.labels,
    why: spans
      .filter((s) => s.from.web_m >= span.from.web_m && (span.to === null || s.from.web_m <= span.to.web_m))
      .map((s) => s.why),
  }));
};

/** One sentence a stretch, for the board. */
export const holdSentences = (state: RunState): readonly { readonly sentence: string; readonly open: boolean }[] => {
  const names = eventNames(state);
  const at = (m: number): string => lengthWords(m, names.length, names.repeat_mm);
  return holdSpans(state).map((span) => ({
    open: span.to_m === null,
    sentence: `Hold ${span.rolls.length === 0 ? 'product' : `finished ${span.rolls.length === 1 ? 'roll' : 'rolls'} ${span.rolls.join(', ')}`}: ${at(span.from_m)} to ${span.to_m === null ? 'now' : at(span.to_m)}${span.labels === null ? '' : `, ${wholeWords(span.labels)} labels${span.to_m === null ? ' so far' : ''}`}.`,
  }));
};

const lastOfEach = <T extends { readonly key: string }>(spans: readonly T[]): readonly T[] => [
  ...new Map(spans.map((s) => [s.key, s])).values(),
];
