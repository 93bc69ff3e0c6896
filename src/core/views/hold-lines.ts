import { placeWords } from '../counter.js';
import type { Movement, RunState } from '../run/state.js';
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
      const why = listWords(reasons(state, span));
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

/** The movements and plates that this stretch is held for, by station. */
const reasons = (state: RunState, span: HoldSpan): readonly string[] => {
  const label = labelsOf(state);
  const within = (from_m: number): boolean => from_m >= span.from_m && (span.to_m === null || from_m <= span.to_m);
  const moved = state.judged.movements
    .filter((m) => m.suspect !== null && m.closed?.how !== 'withdrawn' && within(m.suspect.from.web_m))
    .map((m) => `${causeWords(state, m, label)} ${m.axis}`);
  const dirty = state.judged.plate_suspects
    .filter((p) => within(p.from.web_m))
    .map((p) => `the plate of ${label(p.station)}`);
  return [...new Set([...moved, ...dirty])];
};

const causeWords = (state: RunState, { cause }: Movement, label: (id: string) => string): string => {
  if (cause.kind === 'station') return label(cause.station);
  if (cause.kind === 'reference') return label(state.judged.reference);
  return cause.kind === 'web' ? 'the web' : listWords(cause.stations.map(label));
};

/** "It ends when 4 grey reads good along on a sample printed after the correction." */
const endWords = (state: RunState, span: HoldSpan): string => {
  const label = labelsOf(state);
  const waiting = state.judged.holds.spans
    .filter((one) => one.from.web_m >= span.from_m)
    .flatMap((one) => one.waiting)
    .map((key) => {
      const [station = '', axis = ''] = key.split('|');
      return axis === 'plate' ? `the plate of ${label(station)} is clean` : `${label(station)} reads good ${axis}`;
    });
  return waiting.length === 0
    ? 'It ends with the first good check.'
    : `It ends when ${listWords([...new Set(waiting)])}.`;
};

const labelsOf = (state: RunState): ((id: string) => string) => {
  const labels = new Map(stationsOf(state.press, state.job).map((s) => [s.id, labelOf(s)]));
  return (id) => labels.get(id) ?? id;
};
