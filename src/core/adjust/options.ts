import type { AdviceFinding, Move } from '../finding.js';
import { helixShift } from './helix.js';
import type { PlanInput, PlanStation } from './plan-input.js';
import { tidy, turnStation } from './turn-station.js';

/** Wanted print movements by station id, mm. */
export type Wanted = Readonly<Record<string, number>>;

/** What wanted movements come to once rounded to teeth and divisions. */
export type Outcome = {
  readonly moves: readonly Move[];
  /** Level of every station afterwards, mm; null = not known. */
  readonly after: readonly { readonly id: string; readonly level_mm: number | null }[];
  /** Stations whose knob could not go all the way. */
  readonly out_of_travel: readonly string[];
};

/** Turns it all, the reference first: what the reference really moves is taken off every other reading. */
export const outcomeOf = (input: PlanInput, wanted: Wanted): Outcome => {
  const reference = input.stations.find((station) => station.id === input.reference);
  const moves: Move[] = [];
  const short: string[] = [];
  const turn = (station: PlanStation, mm: number): number => {
    const turned = turnStation(input, station, mm);
    if (turned.split.out_of_travel) short.push(station.id);
    if (turned.move !== null) moves.push(turned.move);
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
  return { moves, after, out_of_travel: short };
};

/** What every station will then read; on helical gears a side move shifts along too. */
export const leavesOf = (input: PlanInput, { moves, after }: Outcome): AdviceFinding['leaves_mm'] => {
  const shiftOf = (id: string): number =>
    moves
      .filter((move) => move.station === id)
      .reduce((sum, move) => sum + helixShift(move.move_mm, input.helix_deg), 0);
  const helical = input.axis === 'across' && input.helix_deg !== 0;
  return after.flatMap(({ id, level_mm }): AdviceFinding['leaves_mm'] => {
    if (id === input.reference || level_mm === null) return [];
    if (input.axis === 'along') return [{ station: id, along: tidy(level_mm) }];
    const along = input.stations.find((station) => station.id === id)?.along_mm ?? null;
    return helical && along !== null
      ? [{ station: id, across: tidy(level_mm), along: tidy(along + shiftOf(id) - shiftOf(input.reference)) }]
      : [{ station: id, across: tidy(level_mm) }];
  });
};
