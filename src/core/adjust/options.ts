import type { Move } from '../finding.js';
import type { PlanInput, PlanStation } from './plan-input.js';
import { turnStation } from './turn-station.js';

/** Wanted print movements by station id, mm: one way of bringing things in. */
export type Wanted = Readonly<Record<string, number>>;

/** What a way of bringing things in comes to once rounded to teeth and divisions. */
export type Outcome = {
  readonly moves: readonly Move[];
  /** Level of every station afterwards, mm; null = not known. */
  readonly after: readonly { readonly id: string; readonly level_mm: number | null }[];
  /** Stations and pairs outside tolerance afterwards. */
  readonly out: number;
  readonly travel_mm: number;
  /** Stations whose knob could not go all the way. */
  readonly out_of_travel: readonly string[];
};

/** Turns it all, the reference first: what the reference really moves is taken off every other reading. */
export const outcomeOf = (input: PlanInput, wanted: Wanted): Outcome => {
  const reference = input.stations.find((station) => station.id === input.reference);
  const moves: Move[] = [];
  const short: string[] = [];
  let travel = 0;
  const turn = (station: PlanStation, mm: number): number => {
    const turned = turnStation(input, station, mm);
    if (turned.split.out_of_travel) short.push(station.id);
    if (turned.move !== null) moves.push(turned.move);
    travel += Math.abs(turned.effect_mm);
    return turned.effect_mm;
  };
  const asked = wanted[input.reference] ?? 0;
  const shift = reference !== undefined && asked !== 0 ? turn(reference, asked) : 0;
  const after = input.stations.map((station) => {
    if (station.id === input.reference) return { id: station.id, level_mm: 0 };
    const mm = wanted[station.id];
    // A rounded move of the reference is made up for at every station that is turned anyway.
    const effect = mm === undefined || mm === 0 ? 0 : turn(station, mm + (shift - asked));
    return { id: station.id, level_mm: station.level_mm === null ? null : station.level_mm + effect - shift };
  });
  return { moves, after, out: countOut(input, after), travel_mm: travel, out_of_travel: short };
};

/** How many stations and pairs are outside tolerance at these levels; what is not known does not count. */
export const countOut = (input: PlanInput, levels: Outcome['after']): number => {
  const at = new Map(levels.map((level) => [level.id, level.level_mm]));
  const stations = input.stations.filter(
    (station) => station.id !== input.reference && Math.abs(at.get(station.id) ?? 0) > station.tolerance_mm + 1e-9,
  ).length;
  const pairs = input.pairs.filter((pair) => {
    const a = at.get(pair.stations[0]);
    const b = at.get(pair.stations[1]);
    return typeof a === 'number' && typeof b === 'number' && Math.abs(a - b) > pair.tolerance_mm + 1e-9;
  }).length;
  return stations + pairs;
};

/** Fewest left outside, then fewest knobs, then teeth only where needed, then least travel. */
export const bestOutcome = (outcomes: readonly Outcome[]): Outcome | null =>
  outcomes.reduce<Outcome | null>((best, next) => (best === null || before(next, best) ? next : best), null);

const before = (a: Outcome, b: Outcome): boolean => {
  if (a.out !== b.out) return a.out < b.out;
  if (a.moves.length !== b.moves.length) return a.moves.length < b.moves.length;
  const teeth = toothMoves(a) - toothMoves(b);
  return teeth !== 0 ? teeth < 0 : a.travel_mm < b.travel_mm - 1e-9;
};

const toothMoves = (outcome: Outcome): number => outcome.moves.filter((move) => move.teeth !== 0).length;
