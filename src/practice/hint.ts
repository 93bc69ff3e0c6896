import { AXES } from '../core/axis.js';
import { BRING_IN } from '../core/job.js';
import { planOfMakeReady } from '../core/run/make-ready-plan.js';
import { labelOf } from '../core/run/stations.js';
import { boardView } from '../core/views/board.js';
import { listWords } from '../core/views/event-words.js';
import { tellsAt } from './act.js';
import { measured, told } from './may-pass.js';
import { nextDue } from './play-through.js';
import type { Session } from './student.js';
import { stationOf } from './world.js';

/**
 * What somebody who never did this could do next, and how a mark is read. In make-ready it names what the plan would turn and the rule that
 * cures it, never the order: that is the student's, and is weighed afterwards. In the run it says what the program makes of what was keyed.
 */
export const hintOf = (session: Session): readonly string[] => {
  const { game } = session;
  const { world } = game;
  if (world.ended) return [];
  if (!world.running) return standingHint(session);
  if (!world.print_on) return ['The print is off: nothing is printed. Type on.'];
  if (game.sample !== null && !game.keyed) return readingHint(session);
  const tells = tellsAt(world);
  if (tells > world.web_m)
    return [
      `What you did shows on a sample from ${tells} m on: the web must carry the print there. Type wait, then pull.`,
    ];
  return world.ok_m === null ? makeReadyHint(session) : runHint(session);
};

const standingHint = ({ game }: Session): readonly string[] => {
  const { world } = game;
  if (!world.print_on && !world.safe && game.sample === null)
    return [
      'The press stands and the print is off. Type on, then start, then wait: the print must reach the sample place.',
    ];
  if (!world.safe && game.sample === null) return ['The press stands. Type start, then wait, then pull.'];
  return [
    `The press stands${world.safe ? ', made safe' : ''}${world.print_on ? '' : ', print off'}. For teeth: stop, safe, off, then turn, as turn 3 retard 1t; then ${world.print_on ? '' : 'on, '}start, wait, pull.`,
  ];
};

const readingHint = (session: Session): readonly string[] => {
  const left = measured(session.game).filter((s) => session.reads[s.id] === undefined);
  if (left.length === 0) return ['Everything is read. Type key: the program takes it as a check.'];
  const station = left.find((s) => s.id === session.looking) ?? left[0];
  return [
    `The dotted cross is the reference, the solid one ${station === undefined ? '' : labelOf(station)}. Solid to the right: AHEAD (A); left: BEHIND (B); down: OPERATOR side (O); up: GEAR side (G).`,
    'Count along the scale and type it in hundredths of a millimetre, along then across: read 42A 5O is 0.42 ahead, 0.05 to the operator side. 0 if they meet.',
  ];
};

const makeReadyHint = (session: Session): readonly string[] => {
  const { game } = session;
  if (game.sample === null) return ['Type pull: a sample is laid under the loupe.'];
  const { done } = game.world;
  if (done.findLastIndex((d) => d.kind === 'turn') > done.findLastIndex((d) => d.kind === 'pull' || d.kind === 'label'))
    return ['Turn all that is off, then type pull: a new sample tells whether it took.'];
  const plan = planOfMakeReady(game.state);
  const label = (id: string): string => {
    const station = stationOf(game.world, id);
    return station === null ? id : labelOf(station);
  };
  const unread = plan.unread.map(({ station, axis }) => `${label(station)} ${axis}`);
  if (unread.length > 0) return [`Not read yet: ${listWords(unread)}.`];
  if (plan.read_again.length > 0)
    return [
      `${listWords(plan.read_again.map(label))}: one label does not tell whether to turn. Type label and read the other label of this sample.`,
    ];
  if (plan.ready) return ['All you read is in, with room left for the run. Type ok to give OK to run.'];
  const off = measured(game).flatMap((s) =>
    AXES.flatMap((axis) => {
      const mm = game.state.judged.read[s.id]?.[axis].mm ?? null;
      const tolerance = game.world.job.tolerance_mm[s.id]?.[axis] ?? Infinity;
      const matters = plan.met === s.id || plan.moves.some((m) => m.station === s.id && m.axis === axis);
      return mm !== null && matters && Math.abs(mm) > (game.world.job.bring_in ?? BRING_IN) * tolerance
        ? [`${labelOf(s)} ${told(mm, axis)} (tolerance ${tolerance})`]
        : [];
    }),
  );
  return [
    `Off by your check: ${off.join('; ')}.${plan.met === null ? '' : ` ${label(plan.met)} cannot be moved: the reference and all others go to it.`}`,
    'What lies AHEAD is retarded, BEHIND advanced, to the OPERATOR side goes to gear, to the GEAR side to operator. Divisions = millimetres ÷ one division (0.02 along, 0.05 across): 0.30 ahead is 15, as turn 2 retard 15. The order is yours.',
  ];
};

const runHint = (session: Session): readonly string[] => {
  const { game } = session;
  const due = nextDue(game);
  const program = game.state.judged.checks.made === 0 ? [] : programSays(session);
  if (due >= game.world.exercise.to_m)
    return [...program, 'No more checks fall due. Type end: what is left of the stock runs as the press stands now.'];
  const pulledHere = game.sample !== null && game.world.web_m - game.sample.web_m <= 100;
  return [
    ...program,
    pulledHere ? `Type next to run on to the check at ${due} m.` : 'Type next to run to the check, then pull.',
  ];
};

/** What the board would say now: the instruction, its caution, and that there is more to ask for. */
const programSays = ({ game }: Session): readonly string[] => {
  const { instruction } = boardView(game.state, NO_CLOCK_MS);
  return [
    `The program says: ${instruction.sentence}${instruction.caution === '' ? '' : ` ${instruction.caution}`}`,
    ...(instruction.why === '' ? [] : ['Type why for its reasons.']),
  ];
};

/** Everything the program says of the moment, for a page of its own. */
export const whyWords = (session: Session): readonly string[] => {
  if (!session.hints) return ['Hints are off.'];
  const { state, world } = session.game;
  if (world.ok_m === null)
    return ['In make-ready what to turn is yours to find; afterwards it is weighed against the plan of the program.'];
  if (state.judged.checks.made === 0)
    return ['The program judges from OK to run on, by the checks that were keyed. It has none yet.'];
  const { instruction } = boardView(state, NO_CLOCK_MS);
  return [
    'The program says:',
    `  ${instruction.sentence}`,
    ...[instruction.why, instruction.after, instruction.caution].filter((one) => one !== '').map((one) => `  ${one}`),
  ];
};

/** The game has no clock: the instruction is asked for at the counter of the last record. */
const NO_CLOCK_MS = 0;
