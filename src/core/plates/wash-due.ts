import { type Places, placeWords } from '../counter.js';
import { formatLength } from '../units.js';
import { chanceDirty } from './life.js';
import type { PlateState, PlatesCheck, PlatesConfig } from './plate-state.js';

/** Waiting past a stop is a poor bet beyond this chance; without a coming stop it must be likelier still. */
const WORTH_A_STOP_THAT_COMES = 0.5;
const WORTH_THE_NEXT_STOP = 0.75;
const LIVES_NEEDED = 2;

/**
 * Whether a plate that is still clean should be washed at a stop that comes anyway, and why; null = no. Only once a life, only
 * when plates of this station have been seen to get dirty twice at least, never on a moving press.
 */
export const washDue = (config: PlatesConfig, plate: PlateState, check: PlatesCheck): string | null => {
  if (plate.due_said || plate.flag !== null || plate.ended || plate.belief === null) return null;
  if (plate.lives.filter((life) => life.to_m !== null).length < LIVES_NEEDED || plate.clean_m === null) return null;
  const age_m = plate.clean_m - plate.start_m;
  const { stop } = check;
  if (stop !== null) {
    const until = stop.next_m ?? check.next_check_m;
    if (until === null || until <= stop.web_m) return null;
    const p = chanceDirty(plate.belief, age_m, until - plate.start_m);
    return p < WORTH_A_STOP_THAT_COMES
      ? null
      : `Wash at ${stop.why}, about ${placeWords(stop.web_m, check.places ?? IN_M)}: ${ranFor(age_m, check)}, and it will be dirty before the stop after (${percent(p)}).`;
  }
  if (check.next_check_m === null) return null;
  const p = chanceDirty(plate.belief, age_m, check.next_check_m - plate.start_m);
  const rolls = config.roll_change === 'running' ? ' The roll change here is no stop.' : '';
  return p < WORTH_THE_NEXT_STOP
    ? null
    : `Wash at the next stop: ${ranFor(age_m, check)}, and it will be dirty before the next check (${percent(p)}).${rolls}`;
};

/** When a plate found wanting is to be washed: a stop that comes anyway, else the next one; never on a moving press. */
export const washWhen = (
  state: 'building' | 'dirty',
  { stop, places }: Pick<PlatesCheck, 'stop' | 'places'>,
): string => {
  if (state === 'dirty') return 'Stop for the wash: product is to hold until it is seen clean.';
  return stop === null
    ? 'Wash at the next stop.'
    : `Wash at ${stop.why}, about ${placeWords(stop.web_m, places ?? IN_M)}.`;
};

/** Web positions as they are. */
export const IN_M: Places = { length: 'm', repeat_mm: 1000 };

const ranFor = (age_m: number, { places = IN_M }: Pick<PlatesCheck, 'places'>): string =>
  `clean for ${formatLength(Math.round(age_m / 100) * 100, places.length, places.repeat_mm)}`;

const percent = (p: number): string => `${Math.round(p * 100)} %`;
