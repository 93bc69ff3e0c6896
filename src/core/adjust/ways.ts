import type { Wanted } from './options.js';
import type { PlanInput, PlanStation } from './plan-input.js';

/** The ways worth trying to bring in what the cause names; empty = knobs cannot help. */
export const waysFor = (input: PlanInput): readonly Wanted[] => {
  const { cause } = input;
  if (cause.kind === 'reference') return referenceWays(input);
  if (cause.kind === 'web') return severalWays(input, offStations(input));
  const named = cause.kind === 'station' ? [cause.station] : cause.stations;
  if (named.includes(input.reference) && named.length === 1) return referenceWays(input);
  if (cause.kind === 'several') return severalWays(input, named);
  const station = input.stations.find((one) => one.id === cause.station);
  if (station === undefined || station.level_mm === null) return [];
  if (station.fixed) return [...bringPrintTo(input, [station]), ...pairWays(input, station)];
  return [
    { [station.id]: (input.past_mm ?? 0) - wholeTeeth(input, station, station.level_mm) },
    ...pairWays(input, station),
  ];
};

/**
 * Where the reference must go so that the others read nothing: the mean of their levels, each weighted by how well it is known.
 * null when no level is known.
 */
export const referenceMove = (stations: readonly PlanStation[]): number | null => {
  let weights = 0;
  let sum = 0;
  for (const { level_mm, sd_mm } of stations) {
    if (level_mm === null) continue;
    const weight = 1 / Math.max(sd_mm ?? 0.04, 1e-3) ** 2;
    weights += weight;
    sum += weight * level_mm;
  }
  return weights === 0 ? null : sum / weights;
};

/** A step of whole teeth, as far as the readings can tell, is corrected by teeth alone: a jumped tooth by a tooth. */
const wholeTeeth = (input: PlanInput, station: PlanStation, level_mm: number): number => {
  if (input.axis !== 'along') return level_mm;
  const teeth = Math.round(level_mm / input.tooth_mm);
  const rest = Math.abs(level_mm - teeth * input.tooth_mm);
  return teeth !== 0 && rest <= 2 * (station.sd_mm ?? 0) ? teeth * input.tooth_mm : level_mm;
};

const others = (input: PlanInput): readonly PlanStation[] =>
  input.stations.filter((station) => station.id !== input.reference);

const referenceWays = (input: PlanInput): readonly Wanted[] => {
  const rest = others(input);
  const move = referenceMove(rest);
  const reference = input.stations.find((station) => station.id === input.reference);
  if (move === null || reference === undefined) return [];
  const oneKnob: readonly Wanted[] = reference.fixed ? [] : [{ [input.reference]: move + (input.past_mm ?? 0) }];
  const each = toAims(rest.filter((station) => !station.fixed));
  return Object.keys(each).length === 0 ? oneKnob : [...oneKnob, each];
};

/** Each to its own aim, and the same with one move of the reference first where that spares knobs. */
const severalWays = (input: PlanInput, named: readonly string[]): readonly Wanted[] => {
  const rest = others(input);
  const off = rest.filter((station) => named.includes(station.id));
  const ways: Wanted[] = [];
  const each = toAims(off.filter((station) => !station.fixed));
  if (Object.keys(each).length > 0 && !named.includes(input.reference)) ways.push(each);
  const reference = input.stations.find((station) => station.id === input.reference);
  if (reference !== undefined && !reference.fixed) {
    const basis = named.includes(input.reference) ? rest.filter((station) => !named.includes(station.id)) : rest;
    const shift = middle(basis) ?? middle(rest);
    if (shift !== null) ways.push(withShift(input, shift, rest, named));
  }
  const fixedOut = off.filter((station) => station.fixed && isOut(station));
  return fixedOut.length === 0 ? ways : [...ways, ...bringPrintTo(input, fixedOut, named)];
};

const withShift = (input: PlanInput, shift: number, rest: readonly PlanStation[], named: readonly string[]): Wanted => {
  const wanted: Record<string, number> = { [input.reference]: shift };
  for (const station of rest) {
    if (station.fixed || station.level_mm === null) continue;
    const after = station.level_mm - shift;
    const needed = named.includes(station.id)
      ? Math.abs(after) > Math.max(station.sd_mm ?? 0, (station.knob.division_mm ?? input.resolution_mm) / 2)
      : Math.abs(after) > station.tolerance_mm;
    if (needed) wanted[station.id] = -after;
  }
  return wanted;
};

/**
 * What cannot be moved is brought in by moving everything else alike: every print station, the reference too, and any other
 * thing that can be moved. Only when the fixed thing is outside its own tolerance.
 */
const bringPrintTo = (
  input: PlanInput,
  fixed: readonly PlanStation[],
  named: readonly string[] = [],
): readonly Wanted[] => {
  const shift = middle(fixed);
  const reference = input.stations.find((station) => station.id === input.reference);
  if (shift === null || reference === undefined || reference.fixed || !fixed.some(isOut)) return [];
  const wanted: Record<string, number> = {};
  for (const station of input.stations) {
    if (station.fixed || (station.kind === 'die' && fixed.every((one) => one.kind === 'die'))) continue;
    const own = named.includes(station.id) ? (station.level_mm ?? 0) : 0;
    wanted[station.id] = shift - own;
  }
  return [wanted];
};

/** A pair that traps can be brought in by either of the two: to its own aim if that does it well, else to the other's level. */
const pairWays = (input: PlanInput, station: PlanStation): readonly Wanted[] => {
  if (input.pair === null || !input.pair.includes(station.id)) return [];
  const tolerance = input.pairs.find((pair) => pair.stations.every((id) => input.pair?.includes(id)))?.tolerance_mm;
  const partner = input.stations.find((one) => one.id !== station.id && input.pair?.includes(one.id));
  if (tolerance === undefined || partner === undefined || partner.level_mm === null || station.level_mm === null)
    return [];
  const ways: Wanted[] = [];
  const stationMoves = !station.fixed;
  const partnerMoves = !partner.fixed && partner.id !== input.reference;
  if (partnerMoves && Math.abs(station.level_mm) <= tolerance / 2) ways.push({ [partner.id]: -partner.level_mm });
  if (stationMoves && Math.abs(partner.level_mm) > tolerance / 2)
    ways.push({ [station.id]: partner.level_mm - station.level_mm });
  if (partnerMoves && station.fixed) ways.push({ [partner.id]: station.level_mm - partner.level_mm });
  return ways;
};

const toAims = (stations: readonly PlanStation[]): Wanted => {
  const wanted: Record<string, number> = {};
  for (const station of stations) if (station.level_mm !== null) wanted[station.id] = -station.level_mm;
  return wanted;
};

/** For a web that stays off after its conditions were seen to: what is past half its tolerance. */
const offStations = (input: PlanInput): readonly string[] =>
  others(input)
    .filter((station) => station.level_mm !== null && Math.abs(station.level_mm) > station.tolerance_mm / 2)
    .map((station) => station.id);

const isOut = (station: PlanStation): boolean => Math.abs(station.level_mm ?? 0) > station.tolerance_mm + 1e-9;

const middle = (stations: readonly PlanStation[]): number | null => {
  const levels = stations
    .flatMap((station) => (station.level_mm === null ? [] : [station.level_mm]))
    .sort((a, b) => a - b);
  const half = levels.length / 2;
  const low = levels[Math.ceil(half) - 1];
  const high = levels[Math.floor(half)];
  return low === undefined || high === undefined ? null : (low + high) / 2;
};
