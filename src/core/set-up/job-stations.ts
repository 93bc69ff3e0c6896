import type { JobStation } from '../job.js';
import type { Press } from '../press.js';
import type { Answers } from './question.js';
import { understandSubset } from './understand-subset.js';

/** A station that the job uses, as far as it is answered; `read` null = not yet. */
export type UsedStation = Pick<JobStation, 'id' | 'ink'> & {
  readonly kind: 'print' | 'die';
  readonly read: JobStation['read'] | null;
};

/** The answer for an ink without a name, and for a station that the job does not use. */
export const NO_NAME = 'no name';
export const NOT_USED = 'not used';

/** The stations that the job uses, in web order; null = not all is answered. */
export const jobStations = (answers: Answers, press: Press): readonly UsedStation[] | null => {
  const used: Omit<UsedStation, 'read'>[] = [];
  for (const { id, kind } of press.stations) {
    const answer = answers[kind === 'die' ? `job.die.${id}` : `job.ink.${id}`];
    if (answer === undefined) return null;
    if (kind === 'die' ? answer === 'y' : answer !== NOT_USED)
      used.push({ id, kind, ink: kind === 'die' || answer === NO_NAME ? null : answer });
  }
  const ids = used.map(({ id }) => id);
  const measured = answers['job.measured'] === undefined ? null : understandSubset(answers['job.measured'], ids);
  return used.map((station) => ({ ...station, read: readOf(answers, station.id, measured) }));
};

const readOf = (
  answers: Answers,
  id: string,
  measured: ReturnType<typeof understandSubset> | null,
): UsedStation['read'] => {
  if (measured === null || !measured.ok) return null;
  if (measured.value.includes(id)) return 'measure';
  const answer = answers[`job.look.${id}`];
  return answer === 'look' || answer === 'never' ? answer : null;
};
