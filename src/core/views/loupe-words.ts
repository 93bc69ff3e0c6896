import { AXES, type Axis } from '../axis.js';
import { FEWEST_PAIRS, type LoupeBias } from '../sensor-bias.js';
import type { StationView } from './board-view.js';
import { type EventNames, listWords } from './event-words.js';
import { registerUnitName, signedNumber, sizeWords } from './number-words.js';

/** Beside the chart's title: "loupe 0.02 mm ahead of sensor", "loupe as sensor"; '' = not known. */
export const loupeInShort = (bias: LoupeBias, axis: Axis, unit: EventNames['register']): string => {
  if (bias.mean_mm === null) return '';
  if (bias.apart !== true) return 'loupe as sensor';
  return `loupe ${sizeWords(bias.mean_mm, unit)} ${SIDES[axis][bias.mean_mm < 0 ? 0 : 1]} sensor`;
};

const SIDES: Readonly<Record<Axis, readonly [string, string]>> = {
  along: ['behind', 'ahead of'],
  across: ['gear side of', 'operator side of'],
};

/** What a station's difference says, for a table: "read apart", "read alike", or how many pairs are missing. */
export const loupeVerdict = (bias: LoupeBias): string =>
  bias.apart === null ? `too few: ${bias.pairs} of ${FEWEST_PAIRS} samples` : bias.apart ? 'read apart' : 'read alike';

/** Where loupe and sensor read apart, in one sentence, so that the next shift turns no knob for it; null = nowhere. */
export const loupeWarning = (stations: readonly StationView[], names: EventNames): string | null => {
  const apart = AXES.flatMap((axis) =>
    stations.flatMap(({ label, axes }) => {
      const { loupe } = axes[axis];
      return loupe?.apart === true ? [`${label} ${axis} ${signedNumber(loupe.mean_mm ?? 0, names.register)}`] : [];
    }),
  );
  if (apart.length === 0) return null;
  return `The loupe reads otherwise than the sensor: ${listWords(apart)} (${registerUnitName(names.register)}, + ahead, + operator side). Read one label with both; turn no knob for it.`;
};
