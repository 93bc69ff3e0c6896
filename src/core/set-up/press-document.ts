import type { PressFile } from '../press-schema.js';
import { knobsOf } from './knob-questions.js';
import type { Answers } from './question.js';
import { understandLength } from './understand-length.js';
import { GAP_ASKED, webGaps } from './web-gaps.js';
import { webOrder } from './web-order.js';

/**
 * The press file that the answers make; null = not all is answered. Nothing is written of what was not asked, so that it stands as not measured. What an
 * earlier file of this press says beyond the questions (knobs, sensor, sample places) is kept.
 */
export const pressDocument = (answers: Answers, before: PressFile | null): PressFile | null => {
  const order = webOrder(answers, dieIdOf(before));
  if (order === null) return null;
  const gaps = webGaps(answers, order).map(({ m }) => m);
  const sample = understandLength(answers['press.sample'] ?? '', { ...GAP_ASKED, low_m: 0, high_m: 200 });
  const { 'press.name': name, 'press.gear': gear, 'press.die.fixed': fixed } = answers;
  if (name === undefined || gear === undefined || !sample.ok || gaps.includes(null)) return null;
  if (order.die !== null && fixed === undefined) return null;
  const places = placesOf(gaps.map(Number), before);
  const uniform = new Set(gaps).size === 1 && before === null ? Number(gaps[0]) : undefined;
  const stations = order.ids.map((id, index): PressFile['stations'][number] => {
    const kind = id === order.die ? ('die' as const) : ('print' as const);
    const { fixed: wasFixed, ...kept } = before?.stations.find((one) => one.id === id && one.kind === kind) ?? {
      id,
      kind,
    };
    const { at_m: _, ...rest } = kept;
    const axes = kind === 'die' ? FIXED[fixed ?? 'neither'] : wasFixed;
    return {
      ...rest,
      ...(uniform === undefined ? { at_m: places[index] ?? 0 } : {}),
      ...(axes === undefined || axes.length === 0 ? {} : { fixed: [...axes] }),
    };
  });
  const { spacing_m: _, gear: oldGear, tooth_mm: oldTooth, ...kept } = before ?? { format: 'press/1' as const };
  const knobs = knobsOf(answers, before?.knobs);
  const sameGear = before !== null && gear === gearOf(before);
  return {
    ...kept,
    format: 'press/1',
    name,
    ...(sameGear
      ? {
          ...(oldGear === undefined ? {} : { gear: oldGear }),
          ...(oldTooth === undefined ? {} : { tooth_mm: oldTooth }),
        }
      : { gear }),
    ...(uniform === undefined ? {} : { spacing_m: uniform }),
    stations,
    ...(knobs === undefined ? {} : { knobs }),
    sample_m: Number(((places.at(-1) ?? 0) + sample.value.m).toFixed(4)),
  };
};

/** What the die of a press file is called. */
export const dieIdOf = (file: PressFile | null): string | null =>
  file?.stations.find(({ kind }) => kind === 'die')?.id ?? null;

/** The gear as one answer, where a file gives only the tooth. */
export const gearOf = (file: PressFile): string => file.gear?.trim() ?? `${file.tooth_mm} mm per tooth`;

const FIXED: Readonly<Record<string, readonly ('along' | 'across')[]>> = {
  along: ['along'],
  across: ['across'],
  both: ['along', 'across'],
  neither: [],
};

/** The first station stands one distance from the unwind, as it does in a file with one spacing; judgement goes by differences only. */
const placesOf = (gaps: readonly number[], before: PressFile | null): readonly number[] => {
  const first = before === null ? (gaps[0] ?? 1) : (firstOf(before) ?? gaps[0] ?? 1);
  const places = [first];
  for (const gap of gaps) places.push(Number(((places.at(-1) ?? 0) + gap).toFixed(4)));
  return places;
};

const firstOf = (file: PressFile): number | undefined => {
  const places = file.stations.flatMap(({ at_m }) => (at_m === undefined ? [] : [at_m]));
  return places.length === file.stations.length ? Math.min(...places) : (file.stations[0]?.at_m ?? file.spacing_m);
};
