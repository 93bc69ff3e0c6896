import type { Move } from '../finding.js';
import { helixShift } from './helix.js';
import type { Outcome } from './options.js';
import type { PlanInput, PlanStation } from './plan-input.js';
import { sayRegister } from './say-register.js';
import { sideOf } from './turn.js';

/** Why these moves: plain sentences in the operator's words. `going`: mm a check of what surely creeps; `meets`: fixed stations that the print is brought to. */
export const whyMoves = (
  input: PlanInput,
  outcome: Outcome,
  moves: readonly Move[],
  { going, meets }: { readonly going: Readonly<Record<string, number>>; readonly meets: readonly string[] },
): readonly string[] => {
  const asides = moves.flatMap((move) => aside(input, outcome, move));
  const fixed = input.stations.filter((station) => meets.includes(station.id));
  if (fixed.length > 0)
    return [
      ...fixed.map(
        (station) =>
          `${station.name} is ${levelWords(input, station)} and is fixed: the print is brought to it. Every station named moves alike, the reference too, at a stop; product until the last is done is waste.`,
      ),
      ...asides,
    ];
  const sentences: string[] = [];
  for (const station of input.stations) {
    if (!moves.some((move) => move.station === station.id)) continue;
    if (station.id === input.reference) {
      sentences.push(`The others read off alike: one knob, ${station.name}, the reference, brings them back.`);
      continue;
    }
    const slope = going[station.id];
    const creeps =
      slope === undefined ? '' : `, and goes ${sayRegister(slope, input.unit)} a check: it is turned past its aim`;
    sentences.push(`${station.name} is ${levelWords(input, station)}${creeps}.`);
  }
  return [...sentences, ...asides];
};

/** What must be known of one knob before its move: trial, travel, backlash, helix. */
const aside = (input: PlanInput, outcome: Outcome, move: Move): readonly string[] => {
  const station = input.stations.find((one) => one.id === move.station);
  if (station === undefined) return [];
  const notes: string[] = [];
  if (!station.proved && (move.divisions !== 0 || move.teeth === 0))
    notes.push(`The direction of ${station.name}'s knob is not proved: turn one division first, read, then the rest.`);
  if (outcome.out_of_travel.includes(station.id))
    notes.push(`${station.name}'s knob has no more travel that way: this is as far as it goes.`);
  if (move.teeth !== 0 && move.divisions !== null && move.divisions !== 0)
    notes.push(
      `Teeth and knob together make ${sayRegister(move.move_mm, input.unit)}: turn exactly the divisions named.`,
    );
  if (station.backlash_mm !== null && station.backlash_mm > (station.knob.division_mm ?? 0) / 4)
    notes.push(
      `${station.name}'s knob has ${sayRegister(station.backlash_mm, input.unit)} of slack: come up to the mark from the same side as always.`,
    );
  if (input.axis === 'across' && input.helix_deg !== 0) {
    const shift = helixShift(move.move_mm, input.helix_deg);
    notes.push(
      `Helical gears: this side move also puts ${station.name} ${sayRegister(shift, input.unit)} ${sideOf('along', shift)} along the web. Read along again afterwards.`,
    );
  }
  return notes;
};

export const levelWords = (input: PlanInput, station: PlanStation): string =>
  station.level_mm === null
    ? 'not measured'
    : `${sayRegister(station.level_mm, input.unit)} ${sideOf(input.axis, station.level_mm)}`;
