import { lengthFromM, lengthToM } from '../../core/units.js';
import type { BoardView } from '../../core/views/board-view.js';
import { lengthWords } from '../../core/views/number-words.js';
import type { Look } from '../theme.js';
import { type Row, type Run, row, run, spread } from './row.js';

/** Two lines: what runs, where it is; when the next check is due, and whatever is wrong with the machine itself. */
export function drawHeader(
  view: BoardView,
  width: number,
  clock: string,
  trouble: string | null,
  _look: Look,
): readonly Row[] {
  const left: Run[] = [run(view.job, 'strong'), run('  '), phaseRun(view), run(rollWords(view))];
  const right: Run[] = [run(`${positionWords(view)}${speedWords(view)}  ${clock}`)];
  const wrong = view.trouble ?? trouble;
  const second = wrong !== null ? row(wrong, 'out') : secondLine(view);
  return [spread(left, right, width), second];
}

function phaseRun(view: BoardView): Run {
  if (view.phase === 'settling' && view.settle_until_m !== null)
    return run(`SETTLING: look, do not turn, until ${length(view, view.settle_until_m)}`, 'note');
  return run(view.phase, view.phase === 'running' ? 'plain' : 'strong');
}

const rollWords = (view: BoardView): string =>
  view.finished_roll.running === null ? '' : `  roll ${view.finished_roll.running}`;

/** "21 450 m estimated, 95 s": a position carried on from speed and clock always says so. */
export function positionWords(view: BoardView): string {
  const { web_m, estimated, age_s } = view.position;
  if (web_m === null) return 'counter not keyed';
  if (estimated && view.position.speed_m_min === null) return `${placeWords(view, web_m)}, speed not keyed: v`;
  const age = estimated && age_s !== null ? ` est. ${ageWords(age_s)}` : '';
  return `${placeWords(view, web_m)}${age}`;
}

/** "17 550 m"; where the press counter shows something else than the metres from OK to run, both: "19 030 m (run 17 550)". */
function placeWords(view: BoardView, web_m: number): string {
  const { counter_minus_web_m } = view.position;
  const run_m = counter_minus_web_m === 0 ? '' : ` (run ${length(view, web_m).replace(/ \D+$/, '')})`;
  return `${length(view, web_m + counter_minus_web_m)}${run_m}`;
}

/** Age in the coarsest words that help: seconds below two minutes, then minutes, then hours. */
export const ageWords = (s: number): string =>
  s < 120 ? `${Math.round(s)} s` : s < 7200 ? `${Math.round(s / 60)} min` : `${Math.round(s / 3600)} h`;

const speedWords = (view: BoardView): string => {
  const speed = view.position.speed_m_min;
  if (speed === null || view.phase === 'stopped' || view.phase === 'ended') return '';
  return view.units.length === 'ft' ? `  ${Math.round(speed / 0.3048)} ft/min` : `  ${Math.round(speed)} m/min`;
};

function secondLine(view: BoardView): Row {
  const parts: Run[] = [...dueRuns(view)];
  const add = (text: string, style: Run['style']): void => {
    parts.push(run('   '), run(text, style));
  };
  if (view.sensor !== null) {
    const well = view.sensor.state === 'attached' || view.sensor.state === 'back';
    // Which port it is on matters when it is lost; the line has no room for it while all is well.
    add(well ? (view.sensor.words.split(':')[0] ?? '') : view.sensor.words, well ? 'plain' : 'act');
  }
  if (view.pulled.length > 0)
    add(
      `sample${view.pulled.length > 1 ? 's' : ''} ${view.pulled.map((one) => String(one.check)).join(', ')} to key: c`,
      'strong',
    );
  const open = view.hold.filter((one) => one.open).length;
  if (open > 0) add(`product on hold: ${open}`, 'strong');
  return parts;
}

function dueRuns(view: BoardView): readonly Run[] {
  const due = view.next_check;
  if (due === null)
    return [
      run(
        view.phase === 'ended'
          ? 'run ended'
          : view.phase === 'make-ready'
            ? 'a full check, then OK to run: c, o'
            : 'no check due',
      ),
    ];
  const when = [
    due.in_m === null ? null : `${aboutLength(view, Math.abs(due.in_m))}`,
    due.in_min === null ? null : `${Math.round(Math.abs(due.in_min))} min`,
  ]
    .filter((one) => one !== null)
    .join(', ');
  if (due.overdue) return [run(`CHECK OVERDUE: ${due.why}${when === '' ? '' : `, by ${when}`}`, 'act')];
  return [run(`next check: ${due.why}${when === '' ? '' : `, about ${when}`}`)];
}

const length = (view: BoardView, m: number): string => lengthWords(m, view.units.length, view.repeat_mm);

/** "About" is to tens of what is shown, so that the line stands still for some seconds; the last hundred count down. */
function aboutLength(view: BoardView, m: number): string {
  const shown = lengthFromM(m, view.units.length, view.repeat_mm);
  const about = shown > 100 ? Math.round(shown / 10) * 10 : shown;
  return length(view, lengthToM(about, view.units.length, view.repeat_mm));
}
