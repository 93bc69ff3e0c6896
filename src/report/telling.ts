import { placeWords } from '../core/counter.js';
import { placesOf } from '../core/views/at-counter.js';
import { type EventNames, listWords } from '../core/views/event-words.js';
import type { HandoverView } from '../core/views/handover-view.js';
import { lengthWords, sizeWords } from '../core/views/number-words.js';
import { plainView } from './plain-words.js';
import { type ShiftClock, shiftClock } from './shift-clock.js';

/** What every section needs to speak of one report: the view with harmless strings, its names, units and clock. */
export type Telling = {
  readonly view: HandoverView;
  readonly names: EventNames;
  readonly clock: ShiftClock;
  readonly label: (station: string) => string;
  /** A place on the web as the press counter showed it then, "17 550 m"; null is "not known". */
  readonly at: (web_m: number | null) => string;
  /** A length of web, "620 m"; null is "not known". */
  readonly long: (m: number | null) => string;
  /** "0.09 mm", without sign. */
  readonly size: (mm: number) => string;
};

export function tellingOf(raw: HandoverView): Telling {
  const { charts: _, ...worded } = raw;
  const view = plainView<HandoverView>(worded);
  const { board } = view;
  const places = placesOf(board);
  const labels = new Map(board.stations.map((station) => [station.id, station.label]));
  return {
    view,
    names: {
      ...places,
      register: board.units.register,
      labels: Object.fromEntries(labels),
      dies: board.stations.filter((station) => station.kind === 'die').map((station) => station.id),
      reference: board.stations.find((station) => station.is_reference)?.id ?? '',
    },
    clock: shiftClock(view.time_zone, view.since_at, view.ended_at ?? view.made_at),
    label: (station) => labels.get(station) ?? `station ${station}`,
    at: (web_m) => (web_m === null ? 'not known' : placeWords(web_m, places)),
    long: (m) => (m === null ? 'not known' : lengthWords(m, places.length, places.repeat_mm)),
    size: (mm) => sizeWords(mm, board.units.register),
  };
}

/** A sentence ends in one full stop, also after "Ben T.". */
export const fullStop = (text: string): string => (/[.!?]$/.test(text) ? text : `${text}.`);

/** "roll 8", "rolls 8 and 9". */
export const rollsWords = (rolls: readonly string[]): string =>
  rolls.length === 0 ? 'roll not known' : `${rolls.length === 1 ? 'roll' : 'rolls'} ${listWords(rolls)}`;
