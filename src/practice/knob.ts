import { travelLeft } from '../core/adjust/gears.js';
import { sayRegister } from '../core/adjust/say-register.js';
import { turnOf } from '../core/adjust/turn.js';
import type { Axis } from '../core/axis.js';
import type { Turn } from '../core/finding.js';
import { fail, ok, type Result } from '../core/result.js';
import { labelOf, type Station } from '../core/run/stations.js';
import type { Done, World } from './world.js';

/** What the hands do: so many teeth and divisions toward a marked direction; − goes back from it. */
export type Turned = {
  readonly station: string;
  readonly toward: Turn;
  readonly teeth: number;
  readonly divisions: number;
};

/** The hand on one knob or gear: what was asked of the print and what the print did. Refused beyond the knob's travel. */
export const turnKnob = (
  world: World,
  station: Station,
  turned: Turned,
): Result<Extract<Done, { readonly kind: 'turn' }>> => {
  const axis = axisOf(turned.toward);
  const knob = station.knobs[axis];
  const division = knob.division_mm ?? 0;
  const sign = turned.toward === 'advance' || turned.toward === 'to operator side' ? 1 : -1;
  const teeth_mm = turned.teeth * sign * world.press.tooth_mm;
  // Gears have no marks: a tooth goes the way it is said; only the knob's own mark may be the other way round.
  const knob_mm = turned.divisions * sign * knob.sense * division;
  const used = usedOf(world, station.id, axis);
  const [back, forth] = travelLeft(knob.travel_mm, used);
  if (knob_mm > forth + 1e-9 || knob_mm < back - 1e-9) {
    const left = knob_mm > 0 ? forth : -back;
    return fail(
      `The knob of ${labelOf(station)} has ${sayRegister(left, 'mm')} left that way (${Math.floor(left / division + 1e-9)} divisions, print ${WAY[turnOf(axis, knob_mm)]}); ${sayRegister(knob_mm, 'mm')} was asked. Nothing was turned.`,
    );
  }
  return ok({
    kind: 'turn',
    web_m: world.web_m,
    station: station.id,
    axis,
    teeth: turned.teeth * sign + 0,
    divisions: turned.divisions * sign * knob.sense + 0,
    asked_mm: tidy(teeth_mm + knob_mm),
    got_mm: tidy(teeth_mm + afterSlack(world, station.id, axis, knob_mm)),
  });
};

const WAY: Readonly<Record<Turn, string>> = {
  advance: 'ahead',
  retard: 'back',
  'to operator side': 'to the operator side',
  'to gear side': 'to the gear side',
};

export const axisOf = (turn: Turn): Axis => (turn === 'advance' || turn === 'retard' ? 'along' : 'across');

/** Sum of a knob's moves since it was centred, mm; whole teeth are gears. */
export const usedOf = (world: World, station: string, axis: Axis): number =>
  turnsOf(world, station, axis).reduce((sum, d) => sum + d.asked_mm - d.teeth * world.press.tooth_mm, 0);

/**
 * What the print does of a knob's move when the knob has play: nothing until the play is taken up on the other side. At the start it lies
 * against the + side. Example: 0.10 of play, first move −0.25: the print goes −0.15; then +0.05: nothing.
 */
const afterSlack = (world: World, station: string, axis: Axis, move_mm: number): number => {
  const slack = world.exercise.knobs.find((k) => k.station === station && k.axis === axis)?.slack_mm ?? 0;
  if (slack <= 0) return move_mm;
  let taken = slack;
  const step = (mm: number): number => {
    const free = mm > 0 ? slack - taken : taken;
    taken = Math.min(slack, Math.max(0, taken + mm));
    return Math.sign(mm) * Math.max(0, Math.abs(mm) - free);
  };
  for (const turn of turnsOf(world, station, axis)) step(turn.asked_mm - turn.teeth * world.press.tooth_mm);
  return step(move_mm);
};

const turnsOf = (world: World, station: string, axis: Axis) =>
  world.done.flatMap((d) => (d.kind === 'turn' && d.station === station && d.axis === axis ? [d] : []));

/** Takes the noise of binary fractions off (1e-9 mm). */
const tidy = (mm: number): number => Math.round(mm * 1e9) / 1e9 + 0;
