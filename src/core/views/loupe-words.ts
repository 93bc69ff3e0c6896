import type { Axis } from '../axis.js';
import { FEWEST_PAIRS, type LoupeBias } from '../sensor-bias.js';
import { type EventNames, sideWords } from './event-words.js';
import { signedNumber, sizeWords } from './number-words.js';

/** Whether the two are known to read apart: the 95 % interval leaves out 0. */
export const readsApart = (bias: LoupeBias): boolean =>
  bias.low_mm !== null && bias.high_mm !== null && (bias.low_mm > 0 || bias.high_mm < 0);

/** Beside the chart's title: "loupe 0.02 mm ahead of sensor", "loupe as sensor"; '' = not known. */
export const loupeInShort = (bias: LoupeBias, axis: Axis, unit: EventNames['register']): string => {
  if (bias.mean_mm === null) return '';
  if (!readsApart(bias)) return 'loupe as sensor';
  return `loupe ${sizeWords(bias.mean_mm, unit)} ${SIDES[axis][bias.mean_mm < 0 ? 0 : 1]} sensor`;
};

const SIDES: Readonly<Record<Axis, readonly [string, string]>> = {
  along: ['behind', 'ahead of'],
  across: ['gear side of', 'operator side of'],
};

/** What a station's difference says, for a table: "read apart", "read alike", or how many pairs are missing. */
export const loupeVerdict = (bias: LoupeBias): string =>
  bias.mean_mm === null
    ? `too few: ${bias.pairs} of ${FEWEST_PAIRS} samples`
    : readsApart(bias)
      ? 'read apart'
      : 'read alike';

/** "Loupe and sensor read 2 plum apart: …", for what the next shift must not be surprised by; null = they do not. */
export const loupeWarning = (bias: LoupeBias, station: string, axis: Axis, names: EventNames): string | null => {
  if (!readsApart(bias) || bias.mean_mm === null || bias.low_mm === null || bias.high_mm === null) return null;
  const unit = names.register;
  const ends = `${signedNumber(bias.low_mm, unit)} to ${signedNumber(bias.high_mm, unit)} ${unit === '64ths' ? 'in' : unit}`;
  return `The loupe reads ${station} ${axis} ${sizeWords(bias.mean_mm, unit)} further ${sideWords(axis, bias.mean_mm)} than the sensor does (95 % interval ${ends}, ${bias.pairs} samples). Read one label with both; turn no knob for it.`;
};
