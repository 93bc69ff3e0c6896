import { isMovement } from '../../core/views/is-movement.js';
import { list, type Section, say } from '../document.js';
import type { Telling } from '../telling.js';
import { ENOUGH_TURNS } from './gain-words.js';
import { knobResponse } from './knob-response.js';

/** What this run says for the next run of the job; each line names what it rests on. Common practice, no source. */
export function nextRun(telling: Telling): Section {
  const lines = adviceForNextRun(telling);
  return {
    id: 'next-run',
    title: 'For the next run of this job',
    blocks: [lines.length === 0 ? say('Nothing in this run asks for a change.') : list(lines)],
  };
}

/** The lines themselves. */
export const adviceForNextRun = (telling: Telling): readonly string[] => [
  ...movers(telling),
  ...webLines(telling),
  ...knobLines(telling),
  ...plateLines(telling),
  ...travelLines(telling),
];

/** Movements that the readings since do not take back, each once. */
const moved = (view: Telling['view']): Telling['view']['stories'] =>
  view.stories.filter(({ event }) => isMovement(event));

function movers({ view, label }: Telling): readonly string[] {
  const counts = new Map<string, number>();
  // What came back with nothing turned was a reading, not a knob that creeps.
  for (const { event } of moved(view))
    if (event.cause.kind === 'station' && (event.how_closed === 'corrected' || event.open))
      counts.set(event.cause.station, (counts.get(event.cause.station) ?? 0) + 1);
  const reference = moved(view).filter(({ event }) => event.cause.kind === 'reference').length;
  return [
    ...[...counts]
      .filter(([, count]) => count >= 2)
      .map(
        ([station, count]) =>
          `${label(station)} moved ${count} times: look at its knob lock, plate mounting and gear before the run.`,
      ),
    ...(reference > 0
      ? [
          `The reference moved ${reference === 1 ? 'once' : `${reference} times`}: lock it, or choose a steadier station as reference.`,
        ]
      : []),
  ];
}

function webLines({ view }: Telling): readonly string[] {
  const web = moved(view).filter(({ event }) => event.cause.kind === 'web').length;
  return web === 0
    ? []
    : [
        `The web stretched or shifted ${web === 1 ? 'once' : `${web} times`}: settle unwind tension, dryers and the splice setting first.`,
      ];
}

const knobLines = ({ view }: Telling): readonly string[] =>
  knobResponse(view.corrections)
    .filter(({ turns, gain }) => turns >= ENOUGH_TURNS && Math.abs(gain - 1) > 0.2)
    .map(
      ({ label, axis, gain, turns }) =>
        `${label} ${axis}: the print moved ${(gain * 100).toFixed(0)} % of what was turned (${turns} turns): set its division in the press file to what it really does.`,
    );

const plateLines = ({ view, at }: Telling): readonly string[] =>
  view.board.stations
    .filter(({ plate }) => plate.flag !== null)
    .map(
      ({ label, plate }) =>
        `${label}: the plate was ${plate.flag === 'wash-due' ? 'due for a wash' : plate.flag}${plate.last_wash_m === null ? '; no wash is recorded' : ` at the end, last washed at ${at(plate.last_wash_m)}`}: plan a wash earlier.`,
    );

const travelLines = ({ view, size }: Telling): readonly string[] =>
  view.board.stations.flatMap(({ label, axes }) =>
    (['along', 'across'] as const).flatMap((axis) => {
      const left = axes[axis].travel_left_mm;
      if (left === null || axes[axis].fixed) return [];
      const off = (left.plus - left.minus) / 2;
      return Math.abs(off) > (left.plus + left.minus) / 4
        ? [
            `${label} ${axis}: the knob ended ${size(off)} off its middle: centre it at set-up and take the rest in teeth or mounting.`,
          ]
        : [];
    }),
  );
