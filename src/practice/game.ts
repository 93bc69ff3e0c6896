import type { Finding } from '../core/finding.js';
import type { LogRecord, RecordBody, StationReading } from '../core/record.js';
import { fail, ok, type Result } from '../core/result.js';
import { admit } from '../core/run/admit.js';
import { apply } from '../core/run/apply.js';
import { begin, RULES } from '../core/run/begin.js';
import type { RunState } from '../core/run/state.js';
import { act, lastPull, type PracticeAct } from './act.js';
import type { Exercise } from './exercise.js';
import { gradeOf, type Mark, type Sample, sampleOf } from './sample.js';
import { beginWorld, type World } from './world.js';

/** What the program found, and at which check and counter it said so. */
export type Found = { readonly check: number | null; readonly web_m: number; readonly finding: Finding };

/** The practice press together with what the program makes of what was keyed: the same judgement as on a real run, never its files. */
export type Game = {
  readonly world: World;
  readonly state: RunState;
  readonly seq: number;
  readonly found: readonly Found[];
  /** The label under the loupe; null before the first sample. */
  readonly sample: Sample | null;
  /** Whether the label under the loupe was keyed. */
  readonly keyed: boolean;
};

export const beginGame = (exercise: Exercise): Game => {
  const world = beginWorld(exercise);
  const game: Game = { world, state: opened(world), seq: 1, found: [], sample: null, keyed: true };
  return exercise.make_ready ? game : judged(game, passed(0));
};

/** The program's judgement from its first record on. */
const opened = (world: World): RunState => {
  const record = stamped(world, 1, {
    type: 'begin',
    run: 'PRACTICE',
    press: world.press,
    job: world.job,
    rules: RULES,
    program: 'practice',
    time_zone: 'UTC',
  });
  const begun = begin(record);
  if (!begun.ok) throw new Error(begun.problem.message);
  return begun.value;
};

/** One act at the press, and the fact of it told to the program. A refusal changes nothing. */
export const play = (game: Game, done: PracticeAct): Result<Game> => {
  const before = game.world;
  const acted = act(before, done);
  if (!acted.ok) return acted;
  const world = acted.value;
  // What was turned in make-ready is no movement of the run: the run is judged from OK on.
  const next: Game = done.kind === 'ok' ? { ...game, world, state: opened(world) } : { ...game, world };
  const fact = factOf(before, world, done);
  const told = fact === null ? next : judged(next, fact);
  if (done.kind === 'pull' || done.kind === 'label') return ok(underLoupe(told));
  return ok(spliced(before, told));
};

/** Keys what was read of the label under the loupe. */
export const keyCheck = (game: Game, readings: readonly StationReading[]): Result<Game> => {
  const { sample } = game;
  if (sample === null) return fail('There is no sample yet. Pull one first.');
  if (game.keyed) return fail('This label was keyed already. Pull another sample, or look at another label.');
  const body: RecordBody = {
    type: 'check',
    check: sample.check,
    web_m: sample.web_m,
    roll: null,
    pulled_at: null,
    source: 'keyed',
    place: null,
    readings,
  };
  const fit = admit(game.state, body);
  return fit.ok ? ok({ ...judged(game, body), keyed: true }) : fit;
};

/** Everything under the loupe as it is, without a reader's error: for the quick game, and for the scripted players. */
export const allRead = (game: Game): readonly StationReading[] =>
  (game.sample?.marks ?? []).map((mark) => readingOf(mark, mark.station === game.world.job.reference));

export const readingOf = (mark: Mark, reference: boolean): StationReading => ({
  station: mark.station,
  along_mm: reference ? null : mark.mm.along,
  across_mm: reference ? null : mark.mm.across,
  look: null,
  edge: null,
  plate: mark.flaws === null ? null : gradeOf(mark.flaws),
  flaws: mark.flaws,
  labels: mark.flaws === null ? null : 5,
});

const underLoupe = (game: Game): Game => {
  const last = game.world.done.at(-1);
  const pulled = lastPull(game.world);
  if (pulled === null) return game;
  const another = last?.kind === 'label';
  const seen = sampleOf(game.world, pulled.check, another ? 2 : 1, pulled.web_m);
  return { ...game, sample: another ? { ...seen, check: last.check } : seen, keyed: false };
};

const factOf = (before: World, world: World, done: PracticeAct): RecordBody | null => {
  const { web_m } = before;
  switch (done.kind) {
    case 'pull':
      return { type: 'pull', check: before.next_check, web_m, roll: null, counter: 'keyed', place: null };
    case 'turn': {
      const made = world.done.at(-1);
      if (made?.kind !== 'turn') return null;
      return {
        type: 'correction',
        station: made.station,
        axis: made.axis,
        move_mm: made.asked_mm,
        teeth: made.teeth,
        divisions: made.divisions,
        web_m,
      };
    }
    case 'wash': {
      const made = world.done.at(-1);
      return made?.kind === 'wash' ? { type: 'wash', station: made.station, web_m } : null;
    }
    case 'stop':
      return { type: 'stop', web_m };
    case 'start':
      return { type: 'start', web_m };
    case 'ok':
      return passed(web_m);
    case 'tension':
      return { type: 'note', web_m, text: 'Tension set back to what the job ran at.' };
    case 'end':
      return { type: 'end', web_m };
    default:
      return null;
  }
};

/** New stock that was spliced in while the web ran. */
const spliced = (before: World, game: Game): Game =>
  game.world.exercise.splices_m
    .filter((m) => m > before.web_m && m <= game.world.web_m)
    .reduce((g, web_m) => judged(g, { type: 'roll', web_m, length_m: null }), game);

const passed = (web_m: number): RecordBody => ({
  type: 'ok',
  web_m,
  zero_m: null,
  passed_by: 'student',
  check: null,
  hold_to: 'aim',
});

const judged = (game: Game, body: RecordBody): Game => {
  const fit = admit(game.state, body);
  // What the press did is so; a fact that the judgement cannot take is left out of it.
  if (!fit.ok) return game;
  const record = stamped(game.world, game.seq + 1, body);
  const { state, found } = apply(game.state, record);
  const check = body.type === 'check' && typeof body.check === 'number' ? body.check : null;
  const web_m = 'web_m' in body ? (body.web_m ?? game.world.web_m) : game.world.web_m;
  return {
    ...game,
    state,
    seq: game.seq + 1,
    found: [...game.found, ...found.map((finding) => ({ check, web_m, finding }))],
  };
};

const BEGAN_MS = Date.UTC(2026, 2, 2, 6);
const MS_PER_M = 600;

/** Time goes with the counter: the game has no clock of its own. */
const stamped = (world: World, seq: number, body: RecordBody): LogRecord => ({
  v: 1,
  seq,
  at: new Date(BEGAN_MS + world.web_m * MS_PER_M + seq * 1000).toISOString(),
  by: 'student',
  ...body,
});
