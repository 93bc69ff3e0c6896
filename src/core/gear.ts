import { quoted } from './quoted.js';
import { ok, type Result } from './result.js';
import { MM_PER_INCH } from './units.js';

/**
 * How far the print moves for one gear tooth, in mm, from the gear system as the trade names it.
 *
 * Circular pitch (`1/8 in CP`, `10 mm CP`) is that length itself; diametral pitch (`10 DP`, teeth per inch of pitch diameter) gives pi/DP inches;
 * `module 5` gives 5 pi mm; also `4 teeth/cm`, `3.175 mm per tooth`. A bare "32 pitch" is asked back, never guessed: 32 DP is 2.49 mm a tooth,
 * 1/32 in CP is 0.79 mm. Refused outside 0.1 to 100 mm a tooth.
 * Source: F. Burgos, "CP versus DP", FlexoExchange (definitions); the factors follow from them. Example: `10 DP` → 7.97965 mm.
 */
export const toothMm = (gear: string): Result<number> => {
  const name = gear
    .trim()
    .toLowerCase()
    .replace(/\s+/g, ' ')
    .replace(/[″”]|''/g, '"');
  for (const [pattern, toMm] of SYSTEMS) {
    const found = pattern.exec(name);
    if (found === null) continue;
    const mm = toMm(numberOf(found[1] ?? ''));
    if (Number.isFinite(mm) && mm >= 0.1 && mm <= 100) return ok(mm);
    return notAGear(
      `${quoted(gear)} would move the print ${Number(mm.toPrecision(4))} mm a tooth; allowed: 0.1 to 100 mm`,
    );
  }
  const bare = /^(?:pitch )?(\d+(?:\.\d+)?)(?: pitch)?$/.exec(name);
  if (bare?.[1] !== undefined && Number(bare[1]) > 0) return notAGear(askBack(gear, bare[1]));
  return notAGear(`${quoted(gear)} is not known; ${GEAR_NAMES}`);
};

const notAGear = (why: string): Result<never> => ({ ok: false, problem: { message: `gear ${why}`, why } });

/** How a gear may be named, for messages. */
export const GEAR_NAMES =
  'write it like "1/8 in CP", "10 mm CP", "10 DP", "module 1", "4 teeth/cm" or "3.175 mm per tooth"';

const NUMBER = '(\\d+(?:\\.\\d+)?|\\.\\d+|\\d+\\/\\d+)';
const CIRCULAR = '(?:cp|c\\.p\\.|circular pitch|per tooth|a tooth)';
const named = (pattern: string): RegExp => new RegExp(`^${pattern}$`);

const SYSTEMS: readonly (readonly [RegExp, (n: number) => number])[] = [
  [named(`${NUMBER} ?(?:in|inch|inches|")(?: ?${CIRCULAR}|/tooth)?`), (n) => n * MM_PER_INCH],
  // A fraction is always of an inch: nobody writes 1/8 mm.
  [named(`(\\d+/\\d+) ?${CIRCULAR}`), (n) => n * MM_PER_INCH],
  [named(`${NUMBER} ?mm(?: ?${CIRCULAR}|/tooth)?`), (n) => n],
  [named(`${NUMBER} ?(?:dp|d\\.p\\.|diametral pitch)`), (n) => (Math.PI * MM_PER_INCH) / n],
  [named(`(?:dp|diametral pitch) ?${NUMBER}`), (n) => (Math.PI * MM_PER_INCH) / n],
  [named(`(?:module|mod|m) ?${NUMBER}(?: ?mm)?`), (n) => Math.PI * n],
  [named(`${NUMBER} ?(?:mm )?(?:module|mod)`), (n) => Math.PI * n],
  [named(`${NUMBER} ?(?:teeth|t) ?(?:/|per) ?cm`), (n) => 10 / n],
  [named(`${NUMBER} ?(?:teeth|t) ?(?:/|per) ?in(?:ch)?`), (n) => MM_PER_INCH / n],
];

const numberOf = (text: string): number => {
  const [top, bottom] = text.split('/');
  return bottom === undefined ? Number(top) : Number(top) / Number(bottom);
};

const askBack = (gear: string, n: string): string => {
  const value = Number(n);
  const diametral = ((Math.PI * MM_PER_INCH) / value).toFixed(2);
  const circular = (MM_PER_INCH / value).toFixed(2);
  return `${quoted(gear)} can mean two things: write "${n} DP" (${diametral} mm a tooth) or "1/${n} in CP" (${circular} mm a tooth)`;
};
