import { nearest } from '../nearest.js';
import { fail, ok, type Result } from '../result.js';
import type { RunState } from './state.js';
import { labelOf, type Station, stationsOf } from './stations.js';

/**
 * The station that a typed word means: its id, what the board calls it ("4 grey", "die"), or its ink where only one station has it.
 * Capitals do not matter. Refused with the stations there are, and the nearest one.
 */
export const namedStation = (state: Pick<RunState, 'press' | 'job'>, word: string): Result<Station> => {
  const stations = stationsOf(state.press, state.job);
  const typed = word.trim().toLowerCase();
  const called = (name: (s: Station) => string | null): readonly Station[] =>
    stations.filter((s) => name(s)?.toLowerCase() === typed);
  const dies = stations.filter((s) => s.kind === 'die');
  for (const found of [called((s) => s.id), called(labelOf), called((s) => s.ink), typed === 'die' ? dies : []])
    if (found.length === 1 && found[0] !== undefined) return ok(found[0]);
  const names = stations.map((s) => s.id);
  const near = nearest(word, names);
  return fail(
    `there is no station "${word}" in the job; the stations are ${names.join(', ')}${near === null ? '' : `, nearest is "${near}"`}`,
  );
};
