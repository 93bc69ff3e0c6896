import type { StationReading } from '../core/record.js';
import { fail, ok, type Result } from '../core/result.js';
import { labelOf } from '../core/run/stations.js';
import { tellsAt } from './act.js';
import { type Command, parseCommand, WORDS } from './command.js';
import type { Exercise } from './exercise.js';
import { allRead, beginGame, type Game, keyCheck, play, readingOf } from './game.js';
import { whyWords } from './hint.js';
import { firstMeasured, mayPass, measured, told } from './may-pass.js';
import { nextDue, runTo } from './play-through.js';
import { pressWords } from './press-words.js';
import type { Said, Session } from './student.js';
import { stationOf } from './world.js';

export type { Read, Said, Session } from './student.js';

export const beginSession = (exercise: Exercise, marks: Session['marks'], hints: boolean): Session => {
  const game = beginGame(exercise);
  return {
    game,
    marks,
    hints,
    looking: firstMeasured(game)?.id ?? '',
    reads: {},
    said: [{ text: exercise.task, tone: 'plain' }],
    page: null,
    refusals: 0,
    paused: false,
  };
};

/** One typed line. What cannot be done is said and changes nothing else. */
export const step = (session: Session, line: string): Session => {
  const open = { ...session, page: null };
  const command = parseCommand(line);
  if (!command.ok) return say(open, command.problem.message, 'refused');
  const done = obeyed(open, command.value);
  return done.ok ? done.value : { ...say(open, done.problem.message, 'refused'), refusals: session.refusals + 1 };
};

/** The web runs by the game's own clock; nothing is said unless something happened. */
export const tick = (session: Session, metres: number): Session => {
  if (session.paused || !session.game.world.running || session.game.world.ended) return session;
  const on = play(session.game, { kind: 'run', metres });
  return on.ok ? withSplices(session, { ...session, game: on.value }) : session;
};

const obeyed = (session: Session, command: Command): Result<Session> => {
  switch (command.do) {
    case 'help':
      return ok({ ...session, page: ['Commands, short form in brackets:', ...WORDS.map(helpLine)] });
    case 'why':
      return ok({ ...session, page: whyWords(session) });
    case 'press':
      return ok({ ...session, page: pressWords(session.game.world) });
    case 'pause':
      return ok(say({ ...session, paused: !session.paused }, session.paused ? 'Going on.' : 'Paused.', 'done'));
    case 'look':
      return look(session, command.station);
    case 'read':
      return readMark(session, command);
    case 'key':
      return key(session);
    case 'next':
      return next(session);
    case 'wait':
      return wait(session);
    case 'act':
      return acted(session, command);
  }
};

const helpLine = (one: (typeof WORDS)[number]): string =>
  one.word === '' ? `    ${one.says}` : `  ${one.word}${one.short === '' ? '' : ` (${one.short})`}: ${one.says}`;

const look = (session: Session, id: string): Result<Session> => {
  const station = stationOf(session.game.world, id);
  if (station === null || station.id === session.game.world.job.reference)
    return fail(
      station === null
        ? `There is no station "${id.slice(0, 20)}"; look at ${measured(session.game)
            .map((s) => s.id)
            .join(', ')}.`
        : `${labelOf(station)} is the reference: its mark is the dotted cross that the others are read against.`,
    );
  return ok({ ...session, looking: station.id });
};

const readMark = (session: Session, read: Extract<Command, { do: 'read' }>): Result<Session> => {
  const { game } = session;
  if (game.sample === null || game.keyed) return fail('There is no fresh label under the loupe. Pull a sample first.');
  const station = read.station === null ? session.looking : read.station;
  const found = measured(game).find((s) => s.id.toLowerCase() === station.toLowerCase());
  if (found === undefined)
    return fail(
      `There is no mark to read of station "${station.slice(0, 20)}"; read ${measured(game)
        .map((s) => s.id)
        .join(', ')}.`,
    );
  const reads = { ...session.reads, [found.id]: { along_mm: read.along_mm, across_mm: read.across_mm } };
  const left = measured(game).find((s) => reads[s.id] === undefined);
  return ok(
    say(
      { ...session, reads, looking: left?.id ?? found.id },
      `${labelOf(found)} read: along ${told(read.along_mm, 'along')}, across ${told(read.across_mm, 'across')}.`,
      'done',
    ),
  );
};

const key = (session: Session): Result<Session> => {
  const { game } = session;
  if (game.sample === null) return fail('There is no sample yet. Pull one first.');
  if (!game.keyed && Object.keys(session.reads).length === 0)
    return fail('Nothing was read yet. Look at each mark and type what you read, as: read 12A 5O');
  const readings = game.sample.marks.map((mark): StationReading => {
    const read = session.reads[mark.station];
    const base = readingOf(mark, mark.station === game.world.job.reference);
    return { ...base, along_mm: read?.along_mm ?? null, across_mm: read?.across_mm ?? null };
  });
  const keyed = keyCheck(game, readings);
  return keyed.ok
    ? ok(say({ ...session, game: keyed.value, reads: {} }, `Check ${game.sample.check} keyed.`, 'done'))
    : keyed;
};

const next = (session: Session): Result<Session> => {
  const { world } = session.game;
  if (world.ok_m === null) return fail('Checks fall due after OK to run. In make-ready: wait, or run 20.');
  if (!world.running) return fail('The press stands. Start it first.');
  return ok(arrived(session, runTo(session.game, nextDue(session.game))));
};

const wait = (session: Session): Result<Session> => {
  const { world } = session.game;
  if (!world.running) return fail('The press stands: nothing comes to the sample place. Start it first.');
  const to = tellsAt(world);
  if (to <= world.web_m) return fail('Nothing waits: a sample pulled now shows everything you did.');
  return ok(arrived(session, runTo(session.game, to)));
};

const arrived = (session: Session, game: Game): Session =>
  withSplices(session, say({ ...session, game }, `The web ran on to ${game.world.web_m} m.`, 'done'));

const acted = (session: Session, { act }: Extract<Command, { do: 'act' }>): Result<Session> => {
  if (act.kind === 'ok') {
    const may = mayPass(session.game);
    if (may !== null) return fail(may);
  }
  const played = play(session.game, act);
  if (!played.ok) return played;
  const after: Session = { ...session, game: played.value };
  switch (act.kind) {
    case 'pull':
    case 'label':
      return ok(fresh(session, after));
    case 'run':
      return ok(arrived(session, played.value));
    case 'turn': {
      const made = played.value.world.done.at(-1);
      const station = stationOf(after.game.world, act.station);
      const amount = [
        ...(act.teeth === 0 ? [] : [`${Math.abs(act.teeth)} ${Math.abs(act.teeth) === 1 ? 'tooth' : 'teeth'}`]),
        ...(act.divisions === 0 ? [] : [`${Math.abs(act.divisions)} divisions`]),
      ].join(' and ');
      if (made?.kind !== 'turn' || station === null) return ok(after);
      return ok(
        say(
          after,
          `Turned ${labelOf(station)}: ${amount}. By the press file its print went ${told(made.asked_mm, made.axis)}.`,
          'done',
        ),
      );
    }
    case 'name':
      return ok(say(after, `Noted: you say ${act.what}. The truth comes at the end.`, 'done'));
    case 'wash':
      return ok(say(after, `Plate ${act.station} washed.`, 'done'));
    case 'end':
      return ok(say(after, 'The exercise is over.', 'done'));
    default:
      return ok(say(after, SAID[act.kind], 'done'));
  }
};

const SAID = {
  tension: 'Tension set back to what the job ran at.',
  stop: 'The press is stopped.',
  safe: 'The press is made safe: drive off, nobody near, by the site rules.',
  start: 'Guards closed. The press runs.',
  'print off': 'The print is thrown off.',
  'print on': 'The print is thrown on.',
  ok: 'OK to run. From here on what is out of register is waste.',
} as const;

const fresh = (before: Session, after: Session): Session => {
  const { game } = after;
  const what = game.sample === null ? '' : `check ${game.sample.check}, ${game.sample.web_m} m`;
  const again = game.sample?.label === 2;
  const said = say(
    { ...after, reads: {}, looking: firstMeasured(game)?.id ?? after.looking },
    again ? `Another label of the same sample lies under the loupe (${what}).` : `Sample pulled: ${what}.`,
    'done',
  );
  if (after.marks === 'drawn') return withSplices(before, said);
  const keyed = keyCheck(game, allRead(game));
  return withSplices(before, keyed.ok ? { ...said, game: keyed.value } : said);
};

const withSplices = (before: Session, after: Session): Session =>
  after.game.world.exercise.splices_m
    .filter((m) => m > before.game.world.web_m && m <= after.game.world.web_m)
    .reduce((s, m) => say(s, `New stock was spliced in at ${m} m.`, 'plain'), after);

const KEPT = 200;

const say = (session: Session, text: string, tone: Said['tone']): Session => ({
  ...session,
  said: [...session.said, { text, tone }].slice(-KEPT),
});
