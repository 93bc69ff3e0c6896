import { FLAW_KINDS, type Flaw, isNoFlaw, NO_FLAW } from '../../core/plates/flaw.js';
import type { BoardView, StationView } from '../../core/views/board-view.js';
import type { Keystroke } from '../keystroke.js';
import { walk } from './cells.js';
import { type Draft, rowOf, withRow } from './draft.js';
import { parsePlate } from './plate-text.js';

/** One answer to what the flaw is: its key, its words, and what it says. */
export type FlawAnswer = { readonly key: string; readonly words: string; readonly says: Partial<Flaw> };

export const KIND_ANSWERS: readonly FlawAnswer[] = FLAW_KINDS.map((kind, i) => ({
  key: String(i + 1),
  words: kind,
  says: { kind },
}));

export const PLACE_ANSWERS: readonly FlawAnswer[] = [
  { key: 'l', words: 'leading edge', says: { edge: 'leading' } },
  { key: 't', words: 'trailing', says: { edge: 'trailing' } },
  { key: 's', words: 'same place every repeat', says: { comes: 'same place' } },
  { key: 'm', words: 'moves', says: { comes: 'moves' } },
];

const ANSWERS: readonly FlawAnswer[] = [...KIND_ANSWERS, ...PLACE_ANSWERS];

/** Whether the plate of this row is graded building or dirty. */
export const isUnclean = (draft: Draft, station: string): boolean => {
  const plate = parsePlate(rowOf(draft, station).plate);
  return plate.ok && (plate.value.grade === 'building' || plate.value.grade === 'dirty');
};

/** What was said of the flaw; a plate graded clean after all has none. */
export const flawIn = (draft: Draft, station: string): Flaw =>
  isUnclean(draft, station) ? (rowOf(draft, station).flaw ?? NO_FLAW) : NO_FLAW;

export const saysIt = (flaw: Flaw, answer: FlawAnswer): boolean =>
  (Object.keys(answer.says) as (keyof Flaw)[]).every((sort) => flaw[sort] === answer.says[sort]);

/** The first plate that is not clean and of which nothing was said yet. */
export const unnamed = (draft: Draft, view: BoardView): StationView | null =>
  view.stations.find((one) => isUnclean(draft, one.id) && isNoFlaw(flawIn(draft, one.id))) ?? null;

/** Asked by itself once a check, when Enter leaves the field of a plate that is not clean and nothing was said yet. */
export const isAskedNow = (draft: Draft, station: string): boolean =>
  isUnclean(draft, station) && isNoFlaw(flawIn(draft, station)) && !draft.asked.includes(mark(station));

export const askFlaw = (draft: Draft, station: string): Draft => ({
  ...draft,
  message: null,
  anew: false,
  naming: station,
  asked: draft.asked.includes(mark(station)) ? draft.asked : [...draft.asked, mark(station)],
});

/** The key for the flaw: of the plate under the cursor, else of the first that nothing was said of, else of the first not clean. */
export function nameFlaw(draft: Draft, view: BoardView): Draft {
  const { at } = draft;
  const here = at !== 'save' && isUnclean(draft, at.station) ? at.station : null;
  const station = here ?? unnamed(draft, view)?.id ?? view.stations.find((one) => isUnclean(draft, one.id))?.id ?? null;
  return station === null
    ? { ...draft, message: 'f says what the flaw is; no plate is graded building or dirty.' }
    : askFlaw(draft, station);
}

/** One key while the flaw is asked: each answer one key, in any order; the same key again takes it back. Nothing has to be answered. */
export function stepFlaw(draft: Draft, station: string, key: Keystroke, view: BoardView): Draft {
  const closed: Draft = { ...draft, message: null, naming: null };
  const flaw = flawIn(draft, station);
  if ('char' in key) {
    const answer = ANSWERS.find((one) => one.key === key.char.toLowerCase());
    if (answer === undefined)
      return { ...draft, message: `"${key.char}" is none of these: 1 to 5, l, t, s, m; Enter goes on.` };
    const [sort] = Object.keys(answer.says) as (keyof Flaw)[];
    const says = saysIt(flaw, answer) && sort !== undefined ? { [sort]: null } : answer.says;
    return withRow(draft, station, { flaw: { ...flaw, ...says } });
  }
  switch (key.name) {
    case 'enter':
    case 'tab':
    case 'down': {
      const { at } = draft;
      return at !== 'save' && at.station === station && at.cell === 'plate'
        ? { ...closed, at: walk(view, at, 1) }
        : closed;
    }
    case 'esc':
    case 'ctrl-c':
    case 'up':
    case 'back-tab':
      return closed;
    case 'end':
      return { ...closed, at: 'save' };
    case 'backspace':
      return isNoFlaw(flaw) ? closed : withRow(draft, station, { flaw: NO_FLAW });
    default:
      return draft;
  }
}

const mark = (station: string): string => `${station}/flaw`;
