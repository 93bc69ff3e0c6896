import { atCounter } from '../../core/views/at-counter.js';
import type { BoardView } from '../../core/views/board-view.js';
import { lengthWords } from '../../core/views/number-words.js';
import { waitWords } from '../../core/views/wait-words.js';
import type { Look } from '../theme.js';
import { type Row, type Run, row, run, spread, widthOf } from './row.js';

/** Two lines: what runs, where it is; when the next check is due, and whatever is wrong with the machine itself. */
export function drawHeader(
  view: BoardView,
  width: number,
  clock: string,
  trouble: string | null,
  _look: Look,
): readonly Row[] {
  const wrong = view.trouble ?? trouble;
  const second = wrong !== null ? row(wrong, 'out') : secondLine(view, width);
  return [firstLine(view, width, clock), second];
}

/**
 * Counter, speed and clock always stand; what gives way for them is the age of the count, words of the phase, then the end of the job's name, and of a
 * roll's number that is longer than any.
 */
function firstLine(view: BoardView, width: number, clock: string): Row {
  const roll = rollWords(view).slice(0, LONGEST_ROLL);
  const tries = [
    { phase: phaseRun(view, false), age: true },
    { phase: phaseRun(view, false), age: false },
    { phase: phaseRun(view, true), age: false },
  ];
  const made = tries.map(({ phase, age }) => ({
    phase,
    right: `${positionWords(view, age)}${speedWords(view)}  ${clock}`,
  }));
  const room = (one: (typeof made)[number]): number =>
    width - 3 - one.phase.text.length - roll.length - one.right.length;
  const fits = made.find((one) => view.job.length <= room(one)) ?? made[made.length - 1];
  if (fits === undefined) return [];
  const left: Run[] = [run(shortName(view.job, room(fits)), 'strong'), run('  '), fits.phase, run(roll)];
  return spread(left, [run(fits.right)], width);
}

/** With "  roll " before it. */
const LONGEST_ROLL = 26;

/** As many whole words as there is room for; of one long word its beginning. */
function shortName(name: string, room: number): string {
  if (name.length <= room) return name;
  const cut = name.slice(0, Math.max(0, room) + 1);
  const words = cut.slice(0, cut.lastIndexOf(' '));
  return cut.includes(' ') && words !== '' ? words : name.slice(0, Math.max(0, room));
}

function phaseRun(view: BoardView, short: boolean): Run {
  if (view.phase === 'settling' && view.settle_until_m !== null) {
    const until = atCounter(view.settle_until_m, view);
    return run(
      short || turns(view) ? `SETTLING until ${until}` : `SETTLING: look, do not turn, until ${until}`,
      'note',
    );
  }
  return run(view.phase, view.phase === 'running' ? 'plain' : 'strong');
}

/** "Do not turn" never stands above an advice to turn. */
const turns = (view: BoardView): boolean => view.instruction.moves.length > 0;

const rollWords = (view: BoardView): string =>
  view.finished_roll.running === null ? '' : `  roll ${view.finished_roll.running}`;

/** "21 450 m estimated, 95 s": a position carried on from speed and clock always says so. */
export function positionWords(view: BoardView, with_age = true): string {
  const { web_m, estimated, age_s } = view.position;
  if (web_m === null) return 'counter not keyed';
  if (estimated && view.position.speed_m_min === null) return `${placeWords(view, web_m)}, speed not keyed: v`;
  const age = estimated && age_s !== null ? ` est.${with_age ? ` ${ageWords(age_s)}` : ''}` : '';
  return `${placeWords(view, web_m)}${age}`;
}

/** As the press counter shows it now. */
const placeWords = (view: BoardView, web_m: number): string => length(view, web_m + view.position.counter_minus_web_m);

/** Age in the coarsest words that help: seconds below two minutes, then minutes, then hours. */
export const ageWords = (s: number): string =>
  s < 120 ? `${Math.round(s)} s` : s < 7200 ? `${Math.round(s / 60)} min` : `${Math.round(s / 3600)} h`;

const speedWords = (view: BoardView): string => {
  const speed = view.position.speed_m_min;
  if (speed === null || view.phase === 'stopped' || view.phase === 'ended') return '';
  return view.units.length === 'ft' ? `  ${Math.round(speed / 0.3048)} ft/min` : `  ${Math.round(speed)} m/min`;
};

/** When to look next, then what is not as usual. Nothing is cut: holds give way first (they are on the list), then why a check is due. */
function secondLine(view: BoardView, width: number): Row {
  const sensor = sensorRuns(view);
  const names = view.pulled.map((one) => String(one.check)).join(', ');
  const waiting: readonly Run[] =
    names === '' ? [] : [run(`sample${view.pulled.length > 1 ? 's' : ''} ${names} to key: c`, 'strong')];
  const open = view.hold.filter((one) => one.open).length;
  const held: readonly Run[] = open === 0 ? [] : [run(`product on hold: ${open}`, 'strong')];
  const [due, short] = [dueRun(view, true), dueRun(view, false)];
  const tries = [
    [due, ...sensor, ...waiting, ...held],
    [due, ...sensor, ...waiting],
    [short, ...sensor, ...waiting, ...held],
    [short, ...sensor, ...waiting],
    [short, ...sensor],
  ].map((parts): Row => parts.flatMap((one, i) => (i === 0 ? [one] : [run('   '), one])));
  // A sensor in trouble stands there, whatever gives way for it.
  const trouble = sensor.some(({ style }) => style === 'act');
  return tries.find((line) => widthOf(line) <= width) ?? (trouble ? sensor : [short]);
}

/** Which port a sensor is on matters when it is lost; the line has no room for it while all is well. */
function sensorRuns({ sensor }: BoardView): readonly Run[] {
  if (sensor === null) return [];
  const well = sensor.state === 'attached' || sensor.state === 'back';
  return [run(well ? (sensor.words.split(':')[0] ?? '') : sensor.words, well ? 'plain' : 'act')];
}

/** When the next check is due; `why`: with what it is due for. */
function dueRun(view: BoardView, why: boolean): Run {
  const due = view.next_check;
  if (due === null)
    return run(
      view.phase === 'ended'
        ? 'run ended'
        : view.phase === 'make-ready'
          ? 'a full check, then OK to run: c, o'
          : 'no check due',
    );
  const apart = (n: number | null): number | null => (n === null ? null : Math.abs(n));
  const when =
    due.in_m === 0 ? 'now' : waitWords(apart(due.in_m), apart(due.in_min), view.units.length, view.repeat_mm);
  if (due.asked === true) return run(`FULL CHECK DUE${why ? `: ${due.why}` : ''}`, 'act');
  const by = when === '' ? '' : `by ${when.replace('about ', '')}`;
  if (due.overdue) return run(`CHECK OVERDUE${why ? `: ${due.why}${by === '' ? '' : ','}` : ''} ${by}`.trim(), 'act');
  return run(`next check: ${[...(why || when === '' ? [due.why] : []), ...(when === '' ? [] : [when])].join(', ')}`);
}

const length = (view: BoardView, m: number): string => lengthWords(m, view.units.length, view.repeat_mm);
