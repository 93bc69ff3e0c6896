import { LESSONS, lesson } from '../../practice/exercises.js';
import { tallyOf, yardsticks } from '../../practice/score.js';
import { textTable } from '../../report/text-table.js';
import { type Exit, type Io, OK } from '../exit.js';

/** Best, advised and never-touched waste of the six exercises for one seed, as measured by playing them. */
export const wasteTable = (seed: number, io: Io): Exit => {
  const rows = LESSONS.flatMap(({ id }) => {
    const exercise = lesson(id, seed);
    if (exercise === null) return [];
    const { best, advised, untouched } = yardsticks(exercise);
    const [b, a, u] = [best, advised, untouched].map((game) => tallyOf(game.world).waste.metres);
    return [[`${id} ${exercise.title}`, String(b), String(a), String(u), ((a ?? 0) / Math.max(1, b ?? 1)).toFixed(2)]];
  });
  io.out(
    `PRACTICE, seed ${seed}: metres of waste\n${textTable(
      {
        kind: 'table',
        caption: '',
        head: 0,
        columns: [
          { title: 'exercise' },
          { title: 'best', numbers: true },
          { title: 'advised', numbers: true },
          { title: 'never touched', numbers: true },
          { title: 'advised ÷ best', numbers: true },
        ],
        rows,
      },
      78,
    ).join('\n')}\n`,
  );
  return OK;
};
