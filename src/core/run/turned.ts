import type { Axis, PerAxis } from '../axis.js';
import type { Press } from '../press.js';
import { printedAt, samplePlace, tellsFrom as tells } from '../web.js';
import type { Judged, Turned } from './state.js';
import type { Station } from './stations.js';

/**
 * What the corrections made so far do to each reading of a sample, mm, in the order of `stations`: a station's own moves that were made
 * before it printed the sample, less those of the reference made before the reference printed it.
 * A sample pulled at W left station k when the counter stood at W − (sample place − place of k).
 */
export const turnedAt = (
  judged: Pick<Judged, 'turns' | 'turned_before' | 'reference'>,
  stations: readonly Station[],
  axis: Axis,
  web_m: number,
  place_m: number,
): readonly number[] => {
  const own = (station: Station): number => {
    const printed = printedAt(web_m, place_m, station.at_m);
    let sum = judged.turned_before[station.id]?.[axis] ?? 0;
    for (const turn of judged.turns)
      if (turn.station === station.id && turn.axis === axis && turn.web_m <= printed) sum += turn.move_mm;
    return sum;
  };
  const reference = stations.find((s) => s.id === judged.reference);
  const shared = reference === undefined ? 0 : own(reference);
  return stations.map((station) => (station.id === judged.reference ? 0 : own(station) - shared));
};

/** Stations whose last correction a sample pulled here does not show yet. */
export const notShownYet = (
  judged: Pick<Judged, 'turns'>,
  stations: readonly Station[],
  press: Press,
  web_m: number,
  place: string | null,
): readonly string[] => {
  const place_m = samplePlace(press, 'keyed', place) ?? press.sample_m;
  return stations
    .filter((s) => judged.turns.some((t) => t.station === s.id && t.web_m > printedAt(web_m, place_m, s.at_m)))
    .map((s) => s.id);
};

/** From this counter on a sample was printed wholly after the move. */
export const tellsFrom = (
  press: Press,
  stations: readonly Station[],
  moves: readonly { readonly station: string }[],
  web_m: number,
): number =>
  Math.max(
    ...moves.map((m) => tells(web_m, press.sample_m, stations.find((s) => s.id === m.station)?.at_m ?? 0)),
    web_m,
  );

/** Keeps the corrections that a sample may still miss and sums the rest, so that a run of any length stays small. */
export const foldTurns = (
  judged: Pick<Judged, 'turns' | 'turned_before'>,
  keep: number,
): Pick<Judged, 'turns' | 'turned_before'> => {
  if (judged.turns.length <= keep) return judged;
  const gone = judged.turns.slice(0, judged.turns.length - keep);
  const before: Record<string, PerAxis<number>> = { ...judged.turned_before };
  for (const turn of gone) before[turn.station] = addTo(before[turn.station], turn);
  return { turns: judged.turns.slice(-keep), turned_before: before };
};

const addTo = (sum: PerAxis<number> | undefined, turn: Turned): PerAxis<number> => {
  const was = sum ?? { along: 0, across: 0 };
  return { ...was, [turn.axis]: was[turn.axis] + turn.move_mm };
};
