import type { Axis } from '../axis.js';
import type { RegisterUnit } from '../units.js';
import { travelLeft } from './gears.js';
import { sayRegister } from './say-register.js';
import { turnOf } from './turn.js';

/** What is left of a knob's travel, each way, mm; and what to say when it runs out. */
export type TravelBudget = {
  readonly used_mm: number;
  readonly plus_mm: number;
  readonly minus_mm: number;
  readonly state: 'ample' | 'low' | 'spent';
  readonly words: string | null;
};

const LOW_SHARE = 0.2;
const LOW_DIVISIONS = 5;
const SPENT_DIVISIONS = 1;

/**
 * Travel left of one knob: the sum of its moves since it was centred against its travel each way. Low from a fifth of the travel
 * (or five divisions) on, spent from the last division on, so that it is said before a move is wanted that is not there.
 * null when the press file gives no travel. Shares are this project's choice, no source.
 * Example: travel 3.0, used 2.5 ahead: 0.5 left to advance, low.
 */
export const travelBudget = (
  name: string,
  axis: Axis,
  travel_mm: number | null,
  division_mm: number | null,
  used_mm: number,
  unit: RegisterUnit,
): TravelBudget | null => {
  if (travel_mm === null) return null;
  const [back, forth] = travelLeft(travel_mm, used_mm);
  const [minus_mm, plus_mm] = [-back + 0, forth];
  const least = Math.min(minus_mm, plus_mm);
  const division = division_mm ?? travel_mm * 0.01;
  const low = Math.max(LOW_SHARE * travel_mm, Math.min(LOW_DIVISIONS * division, 0.5 * travel_mm));
  const state = least <= SPENT_DIVISIONS * division + 1e-9 ? 'spent' : least <= low + 1e-9 ? 'low' : 'ample';
  const way = turnOf(axis, plus_mm <= minus_mm ? 1 : -1);
  const gear = axis === 'along' ? ' At the next stop a tooth gives it back.' : '';
  const words =
    state === 'ample'
      ? null
      : state === 'spent'
        ? `${name}'s knob has no travel left to ${way}.${gear}`
        : `${name}'s knob has ${sayRegister(least, unit)} of travel left to ${way}.${gear}`;
  return { used_mm, plus_mm, minus_mm, state, words: words?.replace('to to ', 'to ') ?? null };
};
