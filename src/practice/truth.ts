import { labelOf } from '../core/run/stations.js';
import { findingWords } from '../core/views/finding-words.js';
import { tellsFrom } from '../core/web.js';
import { beganAt, type PracticeCause } from './cause.js';
import { causeWords, size } from './cause-words.js';
import type { Found, Game } from './game.js';
import { namedWords } from './named.js';
import { orderWords } from './order.js';
import { points, type Tally, tallyOf, type Yardsticks } from './score.js';
import { type Done, stationOf, type World } from './world.js';

/** One thing that befell the press, as told afterwards. */
export type Told = {
  readonly what: string;
  readonly seen: string;
  readonly you: string;
  readonly advised: string;
  readonly best: string;
};

/** The truth after an exercise: plain words and the numbers they rest on. */
export type Truth = {
  readonly exercise: string;
  readonly title: string;
  readonly seed: number;
  readonly finished: boolean;
  /** Counter at which it was ended. */
  readonly ended_m: number;
  readonly you: Tally;
  readonly best: Tally;
  readonly advised: Tally;
  readonly untouched: Tally;
  readonly points: number;
  readonly refusals: number;
  readonly told: readonly Told[];
  /** How the order of make-ready was; empty for an exercise that begins in the run. */
  readonly order: readonly string[];
  readonly named: readonly string[];
};

/**
 * What really moved and when, when it could have been seen, and what each did about it. Waste is counted on the true register, so a
 * misreading shows as what it cost. An exercise left early is counted to its end as it was left.
 */
export const truthOf = (game: Game, compared: Yardsticks, refusals: number): Truth => {
  const left = toTheEnd(game.world);
  const you = tallyOf(left);
  const best = tallyOf(compared.best.world);
  const advised = tallyOf(compared.advised.world);
  const untouched = tallyOf(compared.untouched.world);
  const { exercise } = game.world;
  return {
    exercise: exercise.id,
    title: exercise.title,
    seed: exercise.seed,
    finished: game.world.ended && game.world.web_m >= exercise.to_m,
    ended_m: game.world.web_m,
    you,
    best,
    advised,
    untouched,
    points: points(you.waste.metres, best.waste.metres, untouched.waste.metres),
    refusals,
    told: [...startWords(game.world, compared), ...exercise.causes.map((cause) => toldOf(game, compared, cause))],
    order: exercise.make_ready ? orderWords(game.world) : [],
    named: namedWords(game.world),
  };
};

/** As it was left, to the end of the stock. */
const toTheEnd = (world: World): World => ({ ...world, web_m: world.exercise.to_m, running: true });

const startWords = (world: World, compared: Yardsticks): readonly Told[] => {
  const out = world.stations.flatMap((s) => {
    const mm = world.exercise.out_mm[s.id];
    return mm === undefined || (mm.along === 0 && mm.across === 0)
      ? []
      : [
          `${labelOf(s)} ${[mm.along === 0 ? '' : size(mm.along, 'along'), mm.across === 0 ? '' : size(mm.across, 'across')].filter((w) => w !== '').join(' and ')}`,
        ];
  });
  if (out.length === 0) return [];
  const passed = (w: World): string => (w.ok_m === null ? 'never gave OK to run' : `OK to run at ${w.ok_m} m`);
  const words = (w: World): string => `${passed(w)}, ${turnsBefore(w)} touches, ${pullsBefore(w)} samples`;
  return [
    {
      what: `At the start, against true: ${out.join('; ')}.`,
      seen: 'On the first sample.',
      you: words(world),
      advised: words(compared.advised.world),
      best: words(compared.best.world),
    },
  ];
};

const turnsBefore = (w: World): number =>
  w.done.filter((d) => d.kind === 'turn' && d.web_m <= (w.ok_m ?? Infinity)).length;
const pullsBefore = (w: World): number =>
  w.done.filter((d) => d.kind === 'pull' && d.web_m <= (w.ok_m ?? Infinity)).length;

const toldOf = (game: Game, compared: Yardsticks, cause: PracticeCause): Told => ({
  what: causeWords(game.world, cause),
  seen: seenWords(game, cause),
  you: didWords(game.world, cause),
  advised: `${didWords(compared.advised.world, cause)}${calledWords(compared.advised, cause)}`,
  best: didWords(compared.best.world, cause),
});

/** First sample of the student's that could show it, and what the program made of it. */
const seenWords = (game: Game, cause: PracticeCause): string => {
  const { world } = game;
  const from = shownFrom(world, cause);
  const first = world.done.find((d) => d.kind === 'pull' && d.web_m >= from);
  if (first?.kind !== 'pull') return `A sample from ${Math.ceil(from)} m on could show it; none was pulled.`;
  return `Check ${first.check} at ${first.web_m} m was the first of yours that could show it.${calledWords(game, cause)}`;
};

const shownFrom = (world: World, cause: PracticeCause): number => {
  const began = beganAt(cause) ?? 0;
  if (cause.kind === 'misread') return began;
  const station = 'station' in cause ? stationOf(world, cause.station) : (world.stations.at(-1) ?? null);
  return station === null ? began : tellsFrom(began, world.press.sample_m, station.at_m);
};

/** When the program first called it, from what was keyed. */
const calledWords = (game: Game, cause: PracticeCause): string => {
  const called = game.found.find((f) => f.web_m >= shownFrom(game.world, cause) && calls(game.world, f, cause));
  if (called === undefined) return ' The program did not call it.';
  return ` The program called it at check ${called.check} (${called.web_m} m): ${findingWords(game.state, called.finding).trim()}`;
};

const calls = (world: World, { finding }: Found, cause: PracticeCause): boolean => {
  if (finding.type === 'plate') return cause.kind === 'dirt' && finding.station === cause.station;
  if (finding.type !== 'event' || cause.kind === 'dirt') return false;
  if (cause.kind === 'tension' || cause.kind === 'unwind' || cause.kind === 'warm-up')
    return finding.axis === 'along' && (finding.cause.kind === 'web' || finding.cause.kind === 'several');
  const axis = cause.kind === 'tooth' ? 'along' : cause.axis;
  if (finding.axis !== axis) return false;
  if (cause.station === world.job.reference) return finding.cause.kind === 'reference';
  return (
    (finding.cause.kind === 'station' && finding.cause.station === cause.station) ||
    (finding.cause.kind === 'several' && finding.cause.stations.includes(cause.station))
  );
};

/** What was done about it, and where. */
const didWords = (world: World, cause: PracticeCause): string => {
  const from = beganAt(cause) ?? 0;
  const about = world.done.filter(
    (d) => d.web_m >= from && world.ok_m !== null && d.web_m >= world.ok_m && isFor(d, cause),
  );
  if (about.length === 0)
    return cause.kind === 'misread' || cause.kind === 'warm-up' ? 'left alone, rightly' : 'nothing';
  return about.map((d) => doneWords(world, d)).join('; ');
};

const isFor = (done: Done, cause: PracticeCause): boolean => {
  switch (cause.kind) {
    case 'dirt':
      return done.kind === 'wash' && done.station === cause.station;
    case 'tension':
    case 'unwind':
    case 'warm-up':
      return done.kind === 'tension';
    default:
      return (
        done.kind === 'turn' &&
        done.station === cause.station &&
        done.axis === (cause.kind === 'tooth' ? 'along' : cause.axis)
      );
  }
};

/** "3 leaf 0.14 mm behind at 4030 m": one act in the trade's words. */
const doneWords = (world: World, done: Done): string => {
  if (done.kind === 'wash') return `washed at ${done.web_m} m`;
  if (done.kind === 'tension') return `tension set back at ${done.web_m} m`;
  if (done.kind !== 'turn') return done.kind;
  const station = stationOf(world, done.station);
  const lost =
    Math.abs(done.asked_mm - done.got_mm) > 1e-6 ? `, of which the print took ${size(done.got_mm, done.axis)}` : '';
  return `${station === null ? done.station : labelOf(station)} moved ${size(done.asked_mm, done.axis)} at ${done.web_m} m${lost}`;
};
