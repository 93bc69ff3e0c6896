import type { HandoverView } from '../../core/views/handover-view.js';
import { registerUnitHeading, signedNumber, sizeWords } from '../../core/views/number-words.js';
import { type Section, say } from '../document.js';
import type { Telling } from '../telling.js';

/** How much room each station had in its tolerance over the run, or why that cannot be said. */
export function capability(telling: Telling): Section {
  const { view, label } = telling;
  const unit = view.board.units.register;
  const rows = view.summary.filter((row) => row.n > 0);
  if (rows.length === 0)
    return {
      id: 'capability',
      title: 'Room in the tolerance',
      blocks: [say('No readings with numbers: nothing can be said.')],
    };
  return {
    id: 'capability',
    title: 'Room in the tolerance',
    blocks: [
      {
        kind: 'table',
        caption: `Each station over the run, in ${registerUnitHeading(unit)}`,
        head: 0,
        columns: [
          { title: 'Station' },
          { title: 'Axis' },
          { title: 'Readings', numbers: true },
          { title: 'Mean', numbers: true },
          { title: 'Scatter (1 sigma)', numbers: true },
          { title: 'Capability (Cpk, 95 %)' },
        ],
        rows: rows.map((row) => [
          label(row.station),
          row.axis,
          String(row.n),
          row.mean_mm === null ? '–' : signedNumber(row.mean_mm, unit),
          row.sd_mm === null ? '–' : sizeWords(row.sd_mm, unit),
          row.cpk === null
            ? whyNot(row, view)
            : row.cpk_95 == null
              ? 'not given: without its interval'
              : `${row.cpk.toFixed(2)} (${row.cpk_95.low.toFixed(2)} to ${row.cpk_95.high.toFixed(2)})`,
        ]),
      },
      say(
        'Capability 1 means that three times the scatter just fits between the mean and the nearer limit; 1.33 leaves a third more room. It is given only for a station that held steady, and its scatter is taken to be no smaller than what the gauge can resolve.',
      ),
    ],
  };
}

const ENOUGH = 10;

function whyNot(row: HandoverView['summary'][number], view: HandoverView): string {
  if (row.n < ENOUGH) return `not given: ${row.n} readings are too few`;
  const moved = view.stories.some(
    ({ event }) => event.axis === row.axis && (event.cause.kind !== 'station' || event.cause.station === row.station),
  );
  return moved ? 'not given: it moved during the run' : 'not given: no scatter could be read';
}
