import { type Flaw, isNoFlaw, NO_FLAW } from '../../core/plates/flaw.js';
import type { BoardView, StationView } from '../../core/views/board-view.js';
import { type Draft, rowOf, withRow } from './draft.js';

/** One answer to what the flaw on a plate is: its key, its words, and what it says. */
export type FlawAnswer = { readonly key: string; readonly words: string; readonly says: Partial<Flaw> };

/** Letters only: digits in a plate's field count flaws. None of them means anything else there. */
export const KIND_ANSWERS: readonly FlawAnswer[] = [
  { key: 'f', words: 'fill-in', says: { kind: 'fill-in' } },
  { key: 'k', words: 'speck', says: { kind: 'speck' } },
  { key: 'h', words: 'halo', says: { kind: 'halo' } },
  { key: 'i', words: 'dried ink', says: { kind: 'dried ink' } },
  { key: 'v', words: 'void', says: { kind: 'void' } },
];

export const PLACE_ANSWERS: readonly FlawAnswer[] = [
  { key: 'e', words: 'leading edge', says: { edge: 'leading' } },
  { key: 't', words: 'trailing', says: { edge: 'trailing' } },
  { key: 's', words: 'same place every repeat', says: { comes: 'same place' } },
  { key: 'm', words: 'moves', says: { comes: 'moves' } },
];

const ANSWERS: readonly FlawAnswer[] = [...KIND_ANSWERS, ...PLACE_ANSWERS];

/** Whether the plate of this row is graded building or dirty. */
export const isUnclean = (draft: Draft, station: string): boolean => /^\s*[bd]/i.test(rowOf(draft, station).plate);

/** What was said of the flaw; a plate graded clean after all has none. */
export const flawIn = (draft: Draft, station: string): Flaw =>
  isUnclean(draft, station) ? (rowOf(draft, station).flaw ?? NO_FLAW) : NO_FLAW;

export const saysIt = (flaw: Flaw, answer: FlawAnswer): boolean =>
  sortsOf(answer).every((s) => flaw[s] === answer.says[s]);

/** The first plate that is not clean and of which nothing was said yet. */
export const unnamed = (draft: Draft, view: BoardView): StationView | null =>
  view.stations.find((one) => isUnclean(draft, one.id) && isNoFlaw(flawIn(draft, one.id))) ?? null;

/** The field of the plate whose flaw is asked: the cursor stands in it, and it is not clean. null = nothing is asked. */
export const askedOf = (draft: Draft): string | null => {
  const { at } = draft;
  return at !== 'save' && at.cell === 'plate' && isUnclean(draft, at.station) ? at.station : null;
};

/**
 * A key in the field of a plate that is not clean, as an answer to what the flaw is: in any order, the same key again takes it back.
 * null when it is none. Nothing has to be answered, and leaving the field takes no key more than before.
 */
export function answerFlaw(draft: Draft, station: string, char: string): Draft | null {
  const answer = ANSWERS.find((one) => one.key === char);
  if (answer === undefined || !isUnclean(draft, station)) return null;
  const flaw = flawIn(draft, station);
  const taken: Partial<Flaw> = Object.fromEntries(sortsOf(answer).map((sort) => [sort, null]));
  return withRow(draft, station, { flaw: { ...flaw, ...(saysIt(flaw, answer) ? taken : answer.says) } });
}

/** From anywhere else to the plate that the question is about: the first that nothing was said of, else the first not clean. */
export function toFlaw(draft: Draft, view: BoardView): Draft {
  const plate = unnamed(draft, view) ?? view.stations.find((one) => isUnclean(draft, one.id));
  return plate === undefined
    ? { ...draft, message: 'f is for the flaw on a plate; no plate is graded building or dirty.' }
    : { ...draft, message: null, anew: true, at: { station: plate.id, cell: 'plate' } };
}

const sortsOf = (answer: FlawAnswer): readonly (keyof Flaw)[] => Object.keys(answer.says) as (keyof Flaw)[];
