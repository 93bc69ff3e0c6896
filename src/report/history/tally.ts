import type { KnobMove } from '../../core/adjust/response.js';
import type { Life } from '../../core/plates/fit-life.js';
import type { RunDigest } from '../../core/views/run-digest.js';

/** Turns of one knob: how many, sum of asked × got, sum of asked², and each of them, oldest first. */
export type TurnTally = { turns: number; product: number; square: number; readonly moves: KnobMove[] };

type StationTally = {
  made_m: number;
  steps: number;
  ramps: number;
  dirty_runs: number;
  /** By axis and side ("along +"): how often, how far altogether, in which runs, the oldest first. */
  readonly ways: Map<string, { movements: number; sum_mm: number; readonly runs: string[] }>;
  readonly lives: Life[];
  readonly turns: { readonly along: TurnTally; readonly across: TurnTally };
};

/** What one pass over the runs counts of a press. */
export type Tally = {
  runs: number;
  made_m: number;
  held_m: number;
  web_movements: number;
  readonly causes: { station: number; reference: number; web: number; several: number };
  readonly stations: Map<string, StationTally>;
  readonly months: Map<string, { made_m: number; movements: number }>;
};

/** Counts every run once, by press, the oldest first; stations in the order in which the first run of the press names them. */
export function tallyOf(digests: readonly RunDigest[]): ReadonlyMap<string, Tally> {
  const presses = new Map<string, Tally>();
  for (const digest of [...digests].sort(inOrder)) {
    const tally = entry(presses, digest.press, () => ({
      runs: 0,
      made_m: 0,
      held_m: 0,
      web_movements: 0,
      causes: { station: 0, reference: 0, web: 0, several: 0 },
      stations: new Map(),
      months: new Map(),
    }));
    count(digest, tally);
  }
  return presses;
}

const inOrder = (a: RunDigest, b: RunDigest): number =>
  a.began_at === b.began_at ? (a.run < b.run ? -1 : 1) : a.began_at < b.began_at ? -1 : 1;

function count(digest: RunDigest, tally: Tally): void {
  tally.runs += 1;
  tally.made_m += digest.made_m;
  tally.held_m += digest.held_m;
  const month = entry(tally.months, digest.began_at.slice(0, 7), () => ({ made_m: 0, movements: 0 }));
  month.made_m += digest.made_m;
  month.movements += digest.movements.length;
  for (const id of digest.stations) stationIn(tally, id).made_m += digest.made_m;
  for (const { cause, stations, shape, axis, mm } of digest.movements) {
    tally.causes[cause] += 1;
    if (cause === 'web') tally.web_movements += 1;
    for (const id of stations) {
      const station = stationIn(tally, id);
      station[shape === 'step' ? 'steps' : 'ramps'] += 1;
      if (mm === undefined) continue;
      const way = entry(station.ways, `${axis} ${mm < 0 ? '-' : '+'}`, () => ({ movements: 0, sum_mm: 0, runs: [] }));
      way.movements += 1;
      way.sum_mm += mm;
      if (way.runs.at(-1) !== digest.run) way.runs.push(digest.run);
    }
  }
  for (const { station, axis, asked_mm, got_mm } of digest.turns) {
    const turns = stationIn(tally, station).turns[axis];
    turns.turns += 1;
    turns.product += asked_mm * got_mm;
    turns.square += asked_mm * asked_mm;
    const got_sd_mm = (digest.scatter_mm[axis] ?? USUAL_SCATTER_MM) * Math.SQRT2;
    turns.moves.push({ asked_mm, got_mm, got_sd_mm });
  }
  for (const { station, from_m, to_m } of digest.lives) stationIn(tally, station).lives.push({ from_m, to_m });
  // A plate that was washed since was dirty all the same; an older index knows only of the end of the run.
  const dirty = digest.dirty ?? digest.washed.flatMap(({ station, flag }) => (flag === 'dirty' ? [station] : []));
  for (const station of dirty) stationIn(tally, station).dirty_runs += 1;
}

const stationIn = (tally: Tally, id: string): StationTally =>
  entry(tally.stations, id, () => ({
    made_m: 0,
    steps: 0,
    ramps: 0,
    dirty_runs: 0,
    ways: new Map(),
    lives: [],
    turns: { along: noTurns(), across: noTurns() },
  }));

const noTurns = (): TurnTally => ({ turns: 0, product: 0, square: 0, moves: [] });

/** Where a run knew no scatter of its own (the default of the job file). */
const USUAL_SCATTER_MM = 0.04;

function entry<T>(map: Map<string, T>, key: string, make: () => T): T {
  const known = map.get(key);
  if (known !== undefined) return known;
  const made = make();
  map.set(key, made);
  return made;
}
