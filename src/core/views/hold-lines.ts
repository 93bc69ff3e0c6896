import { placeWords } from '../counter.js';
import { type HeldReason, heldStretches } from '../run/held.js';
import type { RunState } from '../run/state.js';
import { labelOf, stationsOf } from '../run/stations.js';
import { eventNames } from './event-names.js';
import { listWords } from './event-words.js';
import { type HoldSpan, isMisread, isOpenHold } from './hold-views.js';
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
export const holdLines = (state: RunState, spans: readonly HoldSpan[]): readonly HoldLine[] => {
  const names = eventNames(state);
  const at = (m: number): string => placeWords(m, names);
  const label = labelsOf(state);
  const held = heldStretches(state).flatMap(({ reasons }) => reasons);
  return spans.filter(isOpenHold).map((span) => {
    const bears = held.filter((reason) => overlaps(reason, span));
    const open = span.to_m === null;
    const why = listWords([...new Set(bears.map((reason) => reasonWords(reason, label, isMisread(state, reason))))]);
    const labels = span.labels === null ? '' : `, ${wholeWords(span.labels)} labels${open ? ' so far' : ''}`;
    return {
      open,
      why,
      rolls: span.rolls,
      ends: open ? endWords(bears, label) : 'Released, reworked or scrapped roll by roll: holdreg holds.',
      sentence: `Hold ${rollWords(span.rolls)}: ${at(span.from_m)} to ${span.to_m === null ? 'now' : at(span.to_m)}${labels}.`,
    };
  });
};

const rollWords = (rolls: readonly string[]): string =>
  rolls.length === 0 ? 'product' : `finished ${rolls.length === 1 ? 'roll' : 'rolls'} ${rolls.join(', ')}`;

const overlaps = (reason: HeldReason, span: HoldSpan): boolean =>
  reason.from_m < (span.to_m ?? Number.POSITIVE_INFINITY) && (reason.to_m ?? Number.POSITIVE_INFINITY) > span.from_m;

type Label = (id: string) => string;

/** A station and axis, a plate, or what a person said. */
const reasonWords = (reason: HeldReason, label: Label, misread: boolean): string => {
  if (reason.kind === 'person') return reason.why;
  return reason.axis === 'plate'
    ? `the plate of ${label(reason.station)}`
    : `${label(reason.station)} ${reason.axis}${misread ? ' (most likely misread: inside on a second label of the sample)' : ''}`;
};

/** "It ends when 4 grey reads good along on a sample printed after the correction." */
const endWords = (held: readonly HeldReason[], label: Label): string => {
  const waiting = held.filter((reason) => reason.to_m === null).map((reason) => endOf(reason, label));
  return waiting.length === 0
    ? 'It ends with the first good check.'
    : `It ends when ${listWords([...new Set(waiting)])}.`;
};

const endOf = (reason: HeldReason, label: Label): string => {
  if (reason.kind === 'person') return `${reason.by} ends it`;
  return reason.axis === 'plate'
    ? `the plate of ${label(reason.station)} is clean`
    : `${label(reason.station)} reads good ${reason.axis}`;
};

const labelsOf = (state: RunState): Label => {
  const labels = new Map(stationsOf(state.press, state.job).map((s) => [s.id, labelOf(s)]));
  return (id) => labels.get(id) ?? id;
};
