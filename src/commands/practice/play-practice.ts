import { createInterface } from 'node:readline';
import { resultsRow } from '../../practice/results-row.js';
import { yardsticks } from '../../practice/score.js';
import { beginSession, type Session, step, tick } from '../../practice/session.js';
import { truthOf } from '../../practice/truth.js';
import { type Exit, type Io, MACHINE, OK, refuse } from '../exit.js';
import { leaveWell } from '../leave-well.js';
import type { PracticeOptions, PracticeStart } from './options.js';
import { type PracticeFiles, practiceFiles } from './practice-files.js';
import { practiceLines } from './practice-lines.js';
import { truthPage } from './truth-page.js';

/** Plays one exercise, then tells the truth and keeps the result; the yardsticks are played only then. */
export const playPractice = async (start: PracticeStart, options: PracticeOptions, io: Io): Promise<Exit> => {
  const { exercise, student } = start;
  const at = new Date().toISOString().slice(0, 16);
  const opened = practiceFiles(
    options.data,
    options.results,
    fileName(student, exercise.id, exercise.seed, at),
    start.format,
    `# PRACTICE exercise ${exercise.id} seed ${exercise.seed} student ${student}`,
  );
  if (!opened.ok) return refuse(io, `${opened.problem.message}. Nothing was played.`, MACHINE);
  const files = opened.value;
  const live = process.stdin.isTTY === true && process.stdout.isTTY === true;
  const began = beginSession(exercise, options.numbers === true ? 'numbers' : 'drawn', options.hints);
  const played = live ? await onScreen(began, start, options, files) : await byLines(began, options, files, io);
  if (played.code !== OK) {
    if (played.code === MACHINE) return MACHINE;
    io.err(
      `holdreg: left at ${played.session.game.world.web_m} m, nothing counted; what was typed is in ${files.game}\n`,
    );
    return played.code;
  }
  return told(played.session, start, files, at, io);
};

type Played = { readonly session: Session; readonly code: Exit };

const told = (session: Session, start: PracticeStart, files: PracticeFiles, at: string, io: Io): Exit => {
  const truth = truthOf(session.game, yardsticks(start.exercise), session.refusals);
  const page = (format: PracticeStart['format']): string => truthPage(truth, start.student, at, format);
  io.out(page('txt'));
  const kept = files.addResult(resultsRow(start.student, truth, at));
  const written = files.writePage(page(start.format));
  for (const done of [kept, written]) {
    if (done.ok) continue;
    io.err(`holdreg: ${done.problem.message}\n`);
  }
  if (!kept.ok) io.err(`holdreg: the line it should have held: ${resultsRow(start.student, truth, at)}\n`);
  if (!kept.ok || !written.ok) return MACHINE;
  io.out(`\nResult in ${files.results}, this page in ${files.page}\n`);
  return OK;
};

/** Metres the press runs in a minute at pace 1. */
const M_PER_MIN = 100;

const onScreen = async (
  began: Session,
  start: PracticeStart,
  options: PracticeOptions,
  files: PracticeFiles,
): Promise<Played> => {
  const { startPractice } = await import('../../ui/practice/practice-terminal.js');
  const { practiceView } = await import('../../practice/view.js');
  let session = began;
  let carried_m = 0;
  const watching = new Set<() => void>();
  const to = (next: Session): void => {
    if (next === session) return;
    session = next;
    for (const changed of watching) changed();
  };
  const screen = startPractice(
    {
      view: () => practiceView(session),
      type: (line) => {
        files.note(line);
        to(step(session, line));
      },
      tick: (ms) => {
        carried_m += (ms / 60_000) * M_PER_MIN * start.pace;
        const whole = Math.floor(carried_m);
        carried_m -= whole;
        if (whole < 1 || session.paused) return;
        const next = tick(session, whole);
        if (next.game.world.web_m !== session.game.world.web_m) {
          files.note(`run ${next.game.world.web_m - session.game.world.web_m}`);
          to(next);
        }
      },
      look: (by) => to(lookNext(session, by)),
      subscribe: (changed) => {
        watching.add(changed);
        return () => watching.delete(changed);
      },
    },
    { ascii: options.ascii ?? !speaksUtf8(process.env), color: !(process.env.NO_COLOR ?? ''), decimal: '.' },
  );
  const left = leaveWell(() => screen.stop());
  const code = (await Promise.race([screen.finished, left.signalled])) as Exit;
  left.forget();
  return { session, code };
};

const lookNext = (session: Session, by: -1 | 1): Session => {
  const { world } = session.game;
  const ids = world.stations.filter((s) => s.id !== world.job.reference).map((s) => s.id);
  const at = ids.indexOf(session.looking);
  return { ...session, looking: ids[(at + by + ids.length) % ids.length] ?? session.looking };
};

/** Without a terminal: the same commands, a line each, from standard input; what is said goes out as it comes. */
const byLines = async (began: Session, options: PracticeOptions, files: PracticeFiles, io: Io): Promise<Played> => {
  let session = began;
  io.out(practiceLines(null, session, options.ascii === true));
  const lines = createInterface({ input: process.stdin, crlfDelay: Infinity });
  for await (const line of lines) {
    if (line.trim() === '' || line.startsWith('#')) continue;
    files.note(line);
    const before = session;
    session = step(session, line);
    io.out(practiceLines(before, session, options.ascii === true));
    if (session.game.world.ended) break;
  }
  lines.close();
  return { session, code: OK };
};

const fileName = (student: string, exercise: string, seed: number, at: string): string =>
  `${at.replace(/[:T]/g, '-')}-${student.replace(/[^\p{L}\p{N}]+/gu, '-').slice(0, 40)}-${exercise}-${seed}`;

const speaksUtf8 = (env: NodeJS.ProcessEnv): boolean => /utf-?8/i.test(env.LC_ALL || env.LC_CTYPE || env.LANG || '');
