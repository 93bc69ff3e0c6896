import { placeWords } from '../counter.js';
import { type HeldReason, heldStretches } from '../run/held.js';
import type { RunState } from '../run/state.js';
import { labelOf, stationsOf } from '../run/stations.js';
import { eventNames } from './event-names.js';
import { listWords } from './event-words.js';
import type { HoldSpan } from './handover-view.js';
import { holdSpans, isOpenHold } from './hold-views.js';
import { wholeWords } from './number-words.js';

/** One stretch of product that somebody has to see to, as the board says it. */
export type HoldLine = {
  /** "Hold finished roll 9: 18 070 m to now, 92 192 labels so far." */
  readonly sentence: string;
  /** Product goes on being held with every metre. */
  readonly open: boolean;
  /** "4 grey along" and "plate of 3 leaf": what it is held for. */
  readonly why: string;
  /** What would end it, as a sentence. */
  readonly ends: string;
  readonly rolls: readonly string[];
};

/** Product that is on hold, each stretch with why it is held and what would end it; places as the press counter showed them. */
export const holdLines = (state: RunState): readonly HoldLine[] => {
  const names = eventNames(state);
  const at = (m: number): string => placeWords(m, names);
  return holdSpans(state)
    .filter(isOpenHold)
    .map((span) => {
      const open = span.to_m === null;
      const why = listWords([...new Set(reasons(state, span))]);
      const labels = span.labels === null ? '' : `, ${wholeWords(span.labels)} labels${open ? ' so far' : ''}`;
      return {
        open,
        why,
        rolls: span.rolls,
        ends: open ? endWords(state, span) : 'Released, reworked or scrapped roll by roll: holdreg holds.',
        sentence: `Hold ${rollWords(span.rolls)}: ${at(span.from_m)} to ${span.to_m === null ? 'now' : at(span.to_m)}${labels}.`,
      };
    });
};

const rollWords = (rolls: readonly string[]): string =>
  rolls.length === 0 ? 'product' : `finished ${rolls.length === 1 ? 'roll' : 'rolls'} ${rolls.join(', ')}`;

/** The stations and axes, plates and persons that this stretch is held for. */
const reasons = (state: RunState, span: HoldSpan): readonly string[] => {
  const label = labelsOf(state);
  return within(state, span).map((r) =>
    r.kind === 'person'
      ? r.why
      : r.axis === 'plate'
        ? `the plate of ${label(r.station)}`
        : `${label(r.station)} ${r.axis}`,
  );
};

const within = (state: RunState, span: HoldSpan): readonly HeldReason[] =>
  heldStretches(state)
    .flatMap((stretch) => stretch.reasons)
    .filter(
      (r) => r.from_m < (span.to_m ?? Number.POSITIVE_INFINITY) && (r.to_m ?? Number.POSITIVE_INFINITY) > span.from_m,
    );

/** "It ends when 4 grey reads good along on a sample printed after the correction." */
const endWords = (state: RunState, span: HoldSpan): string => {
  const label = labelsOf(state);
  const waiting = within(state, span).flatMap((r) =>
    r.to_m !== null
      ? []
      : r.kind === 'person'
        ? [`${r.by} ends it`]
        : [
            r.axis === 'plate'
              ? `the plate of ${label(r.station)} is clean`
              : `${label(r.station)} reads good ${r.axis}`,
          ],
  );
  return waiting.length === 0
    ? 'It ends with the first good check.'
    : `It ends when ${listWords([...new Set(waiting)])}.`;
};

const labelsOf = (state: RunState): ((id: string) => string) => {
  const labels = new Map(stationsOf(state.press, state.job).map((s) => [s.id, labelOf(s)]));
  return (id) => labels.get(id) ?? id;
};
