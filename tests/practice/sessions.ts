import type { Exercise } from '../../src/practice/exercise.js';
import { lesson } from '../../src/practice/exercises.js';
import { beginSession, type Session, step } from '../../src/practice/session.js';

/** An exercise that must be there. */
export const exerciseOf = (id: string, seed = 1): Exercise => {
  const found = lesson(id, seed);
  if (found === null) throw new Error(`no exercise ${id}`);
  return found;
};

/** A student who types these lines in the quick game. Throws when a line is refused, unless it begins with "!". */
export const typed = (exercise: Exercise, lines: readonly string[], marks: 'drawn' | 'numbers' = 'numbers'): Session =>
  lines.reduce(
    (session, line) => {
      const wanted = line.startsWith('!');
      const next = step(session, wanted ? line.slice(1) : line);
      const refused = next.said.at(-1)?.tone === 'refused' && next.said !== session.said;
      if (refused !== wanted) throw new Error(`${line}: ${next.said.at(-1)?.text ?? ''}`);
      return next;
    },
    beginSession(exercise, marks, true),
  );

export const lastSaid = (session: Session): string => session.said.at(-1)?.text ?? '';

/** Pull at every check that is due, `n` times. */
export const checks = (n: number): readonly string[] => Array.from({ length: n }, () => ['next', 'pull']).flat();
