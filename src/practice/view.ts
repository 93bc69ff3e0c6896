import type { PerAxis } from '../core/axis.js';
import { labelOf } from '../core/run/stations.js';
import { LESSONS } from './exercises.js';
import { hintOf } from './hint.js';
import { measured, told } from './may-pass.js';
import { nextDue } from './play-through.js';
import type { Said, Session } from './session.js';

/** One station's line beside the loupe. */
export type StationLine = {
  readonly label: string;
  readonly looked: boolean;
  readonly along: string;
  readonly across: string;
  readonly flaws: string;
};

/** What the practice screen shows: plain data. */
export type PracticeView = {
  readonly title: string;
  readonly counter: string;
  readonly phase: string;
  readonly stopped: boolean;
  /** The marks under the loupe, mm; null = no sample yet. */
  readonly loupe: { readonly label: string; readonly mm: PerAxis<number> } | null;
  readonly sample: string;
  readonly stations: readonly StationLine[];
  readonly hint: readonly string[];
  readonly said: readonly Said[];
  readonly page: readonly string[] | null;
  readonly ended: boolean;
  readonly web_runs: 'left-to-right' | 'right-to-left';
};

export const practiceView = (session: Session): PracticeView => {
  const { game } = session;
  const { world, sample } = game;
  const { exercise } = world;
  const mark = sample?.marks.find((m) => m.station === session.looking);
  const looking = world.stations.find((s) => s.id === session.looking);
  const graded = LESSONS.some((one) => one.id === exercise.id);
  return {
    title: `${graded ? `Exercise ${exercise.id} of ${LESSONS.length}` : 'Exercise'}: ${exercise.title}`,
    counter: `${world.web_m} m of ${exercise.to_m}`,
    phase: phaseOf(session),
    stopped: !world.ended && !world.running,
    loupe: mark === undefined || looking === undefined ? null : { label: labelOf(looking), mm: mark.mm },
    sample:
      sample === null
        ? 'no sample yet'
        : `check ${sample.check} at ${sample.web_m} m${sample.label === 1 ? '' : ', 2nd label'}${game.keyed ? ', keyed' : ''}`,
    stations: world.stations.map((s) => {
      const flaws = sample?.marks.find((m) => m.station === s.id)?.flaws ?? null;
      const base = { label: labelOf(s), looked: s.id === session.looking, flaws: flaws === null ? '' : `${flaws}` };
      if (s.id === world.job.reference) return { ...base, along: 'reference', across: '' };
      const shown = shownOf(session, s.id);
      return { ...base, along: shown.along, across: shown.across };
    }),
    hint: [...(world.done.length === 0 ? [exercise.task] : []), ...(session.hints ? hintOf(session) : [])],
    said: session.said.filter((one) => one.text !== exercise.task),
    page: session.page,
    ended: world.ended,
    web_runs: world.press.web_runs,
  };
};

const phaseOf = ({ game, paused }: Session): string => {
  const { world } = game;
  if (world.ended) return 'over';
  const due = world.ok_m === null ? 'make-ready' : `running, next check at ${nextDue(game)} m`;
  const stands = world.safe ? 'STOPPED, made safe' : 'STOPPED';
  return `${world.running ? due : stands}${world.print_on ? '' : ', print off'}${paused ? ', paused' : ''}`;
};

/** Numbers as keyed, or as read so far; nothing of a label that was not read. */
const shownOf = (session: Session, id: string): { readonly along: string; readonly across: string } => {
  const read = session.reads[id];
  if (read !== undefined) return { along: told(read.along_mm, 'along'), across: told(read.across_mm, 'across') };
  const { game } = session;
  if (!game.keyed || game.sample === null || !measured(game).some((s) => s.id === id))
    return { along: '-', across: '-' };
  const last = game.state.judged.read[id];
  const own = (axis: 'along' | 'across'): string =>
    last === undefined || last[axis].check !== game.sample?.check ? '-' : told(last[axis].mm, axis);
  return { along: own('along'), across: own('across') };
};
