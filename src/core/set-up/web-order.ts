import type { Answers } from './question.js';
import { understandStations } from './understand-stations.js';

/** Stations as answered, in the order of the web. */
export type WebOrder = {
  readonly prints: readonly string[];
  readonly die: string | null;
  readonly ids: readonly string[];
};

/** The order of the stations as far as it is answered; null = not yet. `dieId`: what the die is called where it has a name already. */
export const webOrder = (answers: Answers, dieId: string | null): WebOrder | null => {
  const read = understandStations(answers['press.prints'] ?? '');
  if (answers['press.prints'] === undefined || !read.ok) return null;
  const prints = read.value;
  if (answers['press.die'] === 'n') return { prints, die: null, ids: prints };
  const after = answers['press.die.after'];
  if (after === undefined) return null;
  const die = [dieId ?? 'D', 'D', 'die', 'the die'].find((id) => !prints.includes(id)) ?? 'the die';
  const place = after === FIRST ? 0 : prints.indexOf(after) + 1;
  return { prints, die, ids: [...prints.slice(0, place), die, ...prints.slice(place)] };
};

/** Before all print stations. */
export const FIRST = 'first';
