import { outcomeOf } from '../core/adjust/options.js';
import type { Axis } from '../core/axis.js';
import type { Move } from '../core/finding.js';
import { printedAt } from '../core/web.js';
import { asTrue, bringIn, pullAndKey } from './bring-in.js';
import { beganAt, type PracticeCause } from './cause.js';
import type { Exercise } from './exercise.js';
import type { Game } from './game.js';
import { doAll, makeMoves } from './make-moves.js';
import { planInputs } from './plan-inputs.js';
import { nextDue, type Player, playThrough } from './play-through.js';
import { flawsAt, movedBy, registerAt } from './standing.js';
import { stationOf, type World } from './world.js';

/**
 * The best that can be done with the checks the job asks for: pulls when a check is due, sees every sample as it truly is, knows what moved as
 * soon as a sample shows it, and cures just that, at once. It cannot know before a sample tells, so what was printed until then is its waste too;
 * somebody who pulls oftener can beat it.
 */
export const best = (exercise: Exercise): Game => playThrough(exercise, KNOWS);

const KNOWS: Player = {
  makeReady: (game) =>
    bringIn(
      game,
      asTrue((g, id, axis) => {
        const station = stationOf(g.world, id);
        return station === null ? null : registerAt(g.world, station, axis, g.world.web_m);
      }),
    ),
  atCheck: (game) => {
    const pulled_m = game.world.web_m;
    const pulled = pullAndKey(game);
    return pulled.world.ended ? pulled : cure(pulled, pulled_m);
  },
};

const cure = (game: Game, pulled_m: number): Game => {
  const { world } = game;
  const causes = world.exercise.causes.filter((cause) => shown(world, cause, pulled_m));
  const tension = causes.some((c) => (c.kind === 'tension' || c.kind === 'unwind') && wouldMatter(world, c));
  const moves = causes.flatMap((cause) => movesFor(world, cause));
  const plates = causes.flatMap((c) => (c.kind === 'dirt' && soonDirty(game, c.station) ? [c.station] : []));
  const teeth = moves.some((m) => m.teeth !== 0);
  const set = tension ? doAll(game, [{ kind: 'tension' }]) : game;
  const washes = plates.map((station) => ({ kind: 'wash', station }) as const);
  if (washes.length === 0) return makeMoves(set, moves);
  // One stop for both.
  const stopped = doAll(set, [{ kind: 'stop' }, { kind: 'safe' }, ...washes]);
  return teeth ? makeMoves(stopped, moves) : doAll(makeMoves(stopped, moves), [{ kind: 'start' }]);
};

/** Whether this sample shows it: at least a division's worth of it was printed. */
const shown = (world: World, cause: PracticeCause, web_m: number): boolean => {
  if (cause.kind === 'dirt') return true;
  if (cause.kind === 'misread' || cause.kind === 'warm-up') return false;
  return world.stations.some((station) => {
    const printed = printedAt(web_m, world.press.sample_m, station.at_m);
    const since = beganAt(cause);
    return (
      (since === null || printed >= since) &&
      (['along', 'across'] as const).some((axis) => Math.abs(movedBy(world, cause, station, axis, printed)) >= LEAST_MM)
    );
  });
};

const LEAST_MM = 0.02;

/** Whether tension, left alone, would put something out before the end. */
const wouldMatter = (world: World, cause: Extract<PracticeCause, { kind: 'tension' | 'unwind' }>): boolean => {
  const reference_m = stationOf(world, world.job.reference)?.at_m ?? 0;
  return world.stations.some(
    (s) => Math.abs(cause.mm_per_m * (s.at_m - reference_m)) > 0.9 * (world.job.tolerance_mm[s.id]?.along ?? Infinity),
  );
};

/** One knob (or gear) back to where it stood: what the cause moved, and nothing else. */
const movesFor = (world: World, cause: PracticeCause): readonly Move[] => {
  if (cause.kind !== 'creep' && cause.kind !== 'slip' && cause.kind !== 'tooth') return [];
  const axis: Axis = cause.kind === 'tooth' ? 'along' : cause.axis;
  const station = stationOf(world, cause.station);
  if (station === null) return [];
  const off = movedBy(world, cause, station, axis, world.web_m) + turnedSince(world, station.id, axis, beganAt(cause));
  const ofReference = cause.station === world.job.reference;
  const level = (id: string, on: Axis): number | null => {
    if (on !== axis) return 0;
    if (ofReference) return -off;
    return id === station.id ? off : 0;
  };
  const input = planInputs(world, level)[axis];
  const slack = world.exercise.knobs.find((k) => k.station === station.id && k.axis === axis)?.slack_mm ?? 0;
  return outcomeOf(input, { [station.id]: -off }).moves.map((m) =>
    withSlack(m, slack, m.move_mm < 0, station.knobs[axis].division_mm),
  );
};

/** What was turned for it already. */
const turnedSince = (world: World, station: string, axis: Axis, from_m: number | null): number =>
  world.done.reduce(
    (mm, d) =>
      d.kind === 'turn' && d.station === station && d.axis === axis && d.web_m >= (from_m ?? 0) ? mm + d.got_mm : mm,
    0,
  );

/** Turned so much further as the play will eat: at the start it lies against the + side. */
const withSlack = (move: Move, slack_mm: number, reverses: boolean, division_mm: number | null): Move => {
  if (slack_mm <= 0 || !reverses || division_mm === null || move.divisions === null) return move;
  const more = Math.round(slack_mm / division_mm);
  return { ...move, divisions: move.divisions + more, move_mm: move.move_mm - more * division_mm };
};

/** Dirty before the next sample could tell. */
const soonDirty = (game: Game, station: string): boolean => flawsAt(game.world, station, nextDue(game) + 50) >= 1;
