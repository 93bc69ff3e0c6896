import { fixedBrought } from './fixed-brought.js';
import { helixShift } from './helix.js';
import type { Outcome } from './options.js';
import type { Held } from './plan.js';
import type { PlanInput, PlanStation } from './plan-input.js';
import { sayRegister } from './say-register.js';
import { sideOf } from './turn.js';

/** Why these moves, or why none: plain sentences in the operator's words. */
export const whyPlan = (input: PlanInput, outcome: Outcome | null, held: Held): string => {
  const sentences = held === null && outcome !== null ? whyMoves(input, outcome) : [whyHeld(input, outcome, held)];
  return sentences.join(' ');
};

const nameOf = (input: PlanInput, id: string): string =>
  input.stations.find((station) => station.id === id)?.name ?? id;

const whyHeld = (input: PlanInput, outcome: Outcome | null, held: Held): string => {
  const subject = causeName(input);
  switch (held) {
    case 'web':
      return input.axis === 'along'
        ? 'The error grows with the distance from the reference: that is the web, not a knob. Look to tension, dryer heat and the stock first; knobs turned now would all have to be turned back.'
        : 'The error grows with the distance from the reference: that is the web, not a knob. Look to the web guide, tension and dryer heat first; a side knob cannot cure it.';
    case 'second-label':
      return outcome !== null && outcome.moves.length > 1
        ? 'More than one station would have to be moved. Read a second label first; one label misread looks the same.'
        : `${subject} moved, it seems: the others read off alike. One misread mark of the reference looks exactly so: read a second label before it is turned.`;
    case 'no-level':
      return `${subject} was not measured, so there is nothing to turn by. Measure it on the next sample.`;
    case 'fixed-inside':
      return `${subject} cannot be moved on this axis and is inside its tolerance: leave it.`;
    case 'too-small':
      return `${subject} is less than half a division off: leave it alone.`;
    default:
      return outcome !== null && outcome.out_of_travel.length > 0
        ? `No travel is left on ${outcome.out_of_travel.map((id) => nameOf(input, id)).join(', ')}: it cannot be brought in by its knob.`
        : `${subject} cannot be brought in by knobs on this press: it is fixed, or the reference is. That is work for a stop.`;
  }
};

const whyMoves = (input: PlanInput, outcome: Outcome): readonly string[] => {
  const moved = outcome.moves.map((move) => move.station);
  const sentences: string[] = [];
  const fixed = fixedBrought(input, outcome.moves);
  if (fixed !== null) {
    sentences.push(
      `${fixed.name} is ${levelWords(input, fixed)} and is fixed: the print is brought to it. Every station named moves alike, the reference too, at a stop; product until the last is done is waste.`,
    );
  } else if (moved.length === 1 && moved[0] === input.reference) {
    sentences.push(
      `${nameOf(input, input.reference)} moved: the others read off alike. One knob brings them all back.`,
    );
  } else {
    for (const station of input.stations) {
      if (moved.includes(station.id) && station.id !== input.reference)
        sentences.push(`${station.name} is ${levelWords(input, station)}.`);
    }
    const partner = input.pair?.find((id) => !moved.includes(id));
    if (input.pair !== null && partner !== undefined && moved.length === 1) {
      sentences.push(`It traps with ${nameOf(input, partner)}; the pair is brought in with the least travel.`);
    }
  }
  if ((input.past_mm ?? 0) !== 0 && moved.length === 1)
    sentences.push('It is still going that way, so it is turned a little past its aim.');
  return [...sentences, ...outcome.moves.flatMap((move) => aside(input, outcome, move))];
};

/** What must be known of one knob before its move: trial, travel, backlash, helix. */
const aside = (input: PlanInput, outcome: Outcome, move: Outcome['moves'][number]): readonly string[] => {
  const station = input.stations.find((one) => one.id === move.station);
  if (station === undefined) return [];
  const notes: string[] = [];
  if (!station.proved && (move.divisions !== 0 || move.teeth === 0)) {
    notes.push(`The direction of ${station.name}'s knob is not proved: turn one division first, read, then the rest.`);
  }
  if (outcome.out_of_travel.includes(station.id))
    notes.push(`${station.name}'s knob has no more travel that way: this is as far as it goes.`);
  if (move.teeth !== 0 && move.divisions !== null && move.divisions !== 0) {
    notes.push(
      `Teeth and knob together make ${sayRegister(move.move_mm, input.unit)}: turn exactly the divisions named.`,
    );
  }
  if (station.backlash_mm !== null && station.backlash_mm > (station.knob.division_mm ?? 0) / 4) {
    notes.push(
      `${station.name}'s knob has ${sayRegister(station.backlash_mm, input.unit)} of slack: come up to the mark from the same side as always.`,
    );
  }
  if (input.axis === 'across' && input.helix_deg !== 0) {
    const shift = helixShift(move.move_mm, input.helix_deg);
    notes.push(
      `Helical gears: this side move also puts ${station.name} ${sayRegister(shift, input.unit)} ${sideOf('along', shift)} along the web. Read along again afterwards.`,
    );
  }
  return notes;
};

const levelWords = (input: PlanInput, station: PlanStation): string =>
  station.level_mm === null
    ? 'not measured'
    : `${sayRegister(station.level_mm, input.unit)} ${sideOf(input.axis, station.level_mm)}`;

const causeName = (input: PlanInput): string => {
  const { cause } = input;
  if (cause.kind === 'station') return nameOf(input, cause.station);
  if (cause.kind === 'several') return cause.stations.map((id) => nameOf(input, id)).join(', ');
  return cause.kind === 'web' ? 'The web' : `${nameOf(input, input.reference)}, the reference,`;
};
