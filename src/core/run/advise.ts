import { type Plan, planMoves } from '../adjust/plan.js';
import type { PlanInput, PlanStation } from '../adjust/plan-input.js';
import { knobAsLearned, knobWords, knownOf } from '../adjust/response.js';
import type { Axis } from '../axis.js';
import type { AdviceFinding, Cause } from '../finding.js';
import type { Job } from '../job.js';
import { repeatMm } from '../job.js';
import type { Press } from '../press.js';
import { knobOf } from './knob-of.js';
import type { Judged, Movement } from './state.js';
import { labelOf, type Station } from './stations.js';
import { toleranceIn } from './tolerance-in.js';

/** True register now by station, mm; null = not known. */
export type Levels = Readonly<Record<string, { readonly mean_mm: number; readonly sd_mm: number } | null>>;

/** Why nothing is to be turned at this moment, before any planning; null = plan. */
export type Hush = { readonly why: string; readonly read_again?: readonly string[] } | null;

/** What to turn for one movement, as a finding but for its number. `wanted`: levels to bring in, when restraint asks for less than the level. */
export const adviceFor = (
  press: Press,
  job: Job,
  judged: Judged,
  stations: readonly Station[],
  movement: Pick<Movement, 'axis' | 'cause' | 'pair' | 'severity' | 'named' | 'past_mm'>,
  levels: PerAxisLevels,
  hush: Hush,
): AdviceFinding => {
  const input = planInput(press, job, judged, stations, movement, levels);
  const plan: Plan =
    hush === null
      ? planMoves(input)
      : {
          moves: [],
          leaves_mm: asTheyAre(input),
          why: hush.why,
          ...(hush.read_again === undefined ? {} : { read_again: hush.read_again }),
        };
  return { type: 'advice', event: 0, ...plan, why: [plan.why, ...knobTrouble(judged, stations, plan)].join(' ') };
};

/** What was found wrong with a knob that is to be turned: it does not answer, or gives more or less than its marks say. */
const knobTrouble = (judged: Judged, stations: readonly Station[], plan: Plan): readonly string[] =>
  plan.moves.flatMap((move) => {
    const station = stations.find((s) => s.id === move.station);
    const response = judged.knobs[move.station]?.[move.axis];
    const words =
      station === undefined || response === undefined ? null : knobWords(labelOf(station), knownOf(response));
    return words === null ? [] : [words];
  });

export type PerAxisLevels = Readonly<Record<Axis, Levels>>;

/** Checks a web movement is given to be cured at tension, dryer or stock before knobs are spoken of. */
const WEB_PATIENCE = 3;

/** The planner's question on one axis. */
export const planInput = (
  press: Press,
  job: Job,
  judged: Judged,
  stations: readonly Station[],
  movement: Pick<Movement, 'axis' | 'cause' | 'pair' | 'severity' | 'named' | 'past_mm'>,
  levels: PerAxisLevels,
): PlanInput => {
  const { axis } = movement;
  const reference_m = stations.find((s) => s.id === judged.reference)?.at_m ?? 0;
  return {
    axis,
    cause: movement.cause,
    reference: judged.reference,
    stations: stations.map((station): PlanStation => {
      const level = levels[axis][station.id] ?? null;
      const response = judged.knobs[station.id]?.[axis];
      const known = response === undefined ? null : knownOf(response);
      return {
        id: station.id,
        name: labelOf(station),
        kind: station.kind,
        path_m: station.at_m - reference_m,
        fixed: station.fixed.includes(axis),
        measured: station.read === 'measure' && station.id !== judged.reference,
        level_mm: station.id === judged.reference ? 0 : (level?.mean_mm ?? null),
        sd_mm: station.id === judged.reference ? 0 : (level?.sd_mm ?? null),
        tolerance_mm: toleranceIn(judged, station.id, axis),
        knob: known === null ? knobOf(judged, station, axis) : knobAsLearned(knobOf(judged, station, axis), known),
        used_mm: usedTravel(judged, station, axis, press.tooth_mm),
        gain: known?.gain ?? { plus: 1, minus: 1 },
        backlash_mm: known === null || known.moves < 2 ? null : known.backlash_mm,
        proved: known?.sense === 1,
        along_mm: axis === 'across' ? (levels.along[station.id]?.mean_mm ?? null) : null,
      };
    }),
    pairs: job.pairs.flatMap((p) =>
      p.tolerance_mm[axis] === null ? [] : [{ stations: p.stations, tolerance_mm: p.tolerance_mm[axis] }],
    ),
    pair: movement.pair,
    tooth_mm: press.tooth_mm,
    repeat_mm: repeatMm(press, job),
    helix_deg: press.helix_deg,
    resolution_mm: job.reading.resolution_mm,
    anything_out: movement.severity === 'out',
    second_read: movement.named >= 1,
    web_checked: movement.named >= WEB_PATIENCE,
    unit: job.units.register,
    past_mm: movement.past_mm,
  };
};

/** Sum of the knob's moves since it was centred, mm: whole teeth are gears, not the knob. */
export const usedTravel = (
  judged: Pick<Judged, 'turns' | 'turned_before'>,
  station: Pick<Station, 'id'>,
  axis: Axis,
  tooth_mm: number,
): number =>
  judged.turns
    .filter((t) => t.station === station.id && t.axis === axis)
    .reduce(
      (sum, t) => sum + t.move_mm - (axis === 'along' ? (t.teeth ?? 0) * tooth_mm : 0),
      judged.turned_before[station.id]?.[axis] ?? 0,
    );

const asTheyAre = (input: PlanInput): AdviceFinding['leaves_mm'] =>
  input.stations.flatMap((s) =>
    s.id === input.reference || s.level_mm === null
      ? []
      : [input.axis === 'along' ? { station: s.id, along: s.level_mm } : { station: s.id, across: s.level_mm }],
  );

/** Stations whose readings a cause moves. */
export const reachedBy = (cause: Cause, stations: readonly Station[], reference: string): readonly string[] => {
  if (cause.kind === 'station') return [cause.station];
  if (cause.kind === 'several') return cause.stations;
  return stations.flatMap((s) => (s.id === reference || s.read !== 'measure' ? [] : [s.id]));
};
