import stringWidth from 'string-width';

/*
 * Rows are drawn with one UTF-16 unit a column: counted, padded and cut by `length`. A name may hold letters that are not so: a letter with marks of its
 * own, or one two columns wide. Each such cluster is given one private-use unit before it is drawn, a wide one a filler behind it, and gets its
 * letters back when the row is painted. Emoji stay out: terminals do not agree how wide they are.
 */

/** A text with one unit a column, composed (NFC, Unicode Standard Annex 15). */
export const inColumns = (text: string): string => {
  if (PLAIN.test(text)) return text;
  const before = known.get(text);
  if (before !== undefined) return before;
  let made = '';
  for (const { segment } of clusters.segment(text.normalize('NFC'))) made += unitsFor(segment);
  if (known.size >= MOST_KNOWN) known.clear();
  known.set(text, made);
  return made;
};

/** What a unit of `inColumns` stands for; `wide`: it must have its filler behind it. null = it is none of ours. */
export const clusterOf = (unit: string): { readonly text: string; readonly wide: boolean } | null =>
  shown[unit.charCodeAt(0) - FIRST] ?? null;

export const FILLER = '\uF8FF';

/** Anything made of plain data, with every text in it one unit a column; what holds none that needs it comes back as it is. */
export const allInColumns = <T>(value: T): T => walk(value) as T;

/** The text that was given, for whoever asks by a name that was drawn. */
export const outOfColumns = (text: string): string =>
  PLAIN.test(text)
    ? text
    : text.replace(/[\uE800-\uF8FE]/g, (unit) => clusterOf(unit)?.text ?? unit).replaceAll(FILLER, '');

const PLAIN = /^[\u0000-\u02ff\u2010-\u2027\u2030-\u205e\u2190-\u22ff]*$/;
const FIRST = 0xe800;
const LAST = 0xf8fe;
const MOST_KNOWN = 2000;
const clusters = new Intl.Segmenter('en', { granularity: 'grapheme' });
const known = new Map<string, string>();
const units = new Map<string, string>();
const shown: { readonly text: string; readonly wide: boolean }[] = [];
/** Formatting characters, what has no meaning of its own, and emoji: shown as question marks. */
const NOT_SHOWN = /\p{C}|\p{Zl}|\p{Zp}|\p{Variation_Selector}|\p{Emoji_Presentation}/u;

const unitsFor = (cluster: string): string => {
  const width = stringWidth(cluster);
  if (cluster.length === 1 && width === 1 && !NOT_SHOWN.test(cluster)) return cluster;
  if (NOT_SHOWN.test(cluster) || (width !== 1 && width !== 2)) return '?'.repeat(Math.max(1, Math.min(2, width)));
  const unit = units.get(cluster) ?? newUnit(cluster, width === 2);
  return unit === null ? '?'.repeat(width) : width === 2 ? unit + FILLER : unit;
};

const newUnit = (text: string, wide: boolean): string | null => {
  if (FIRST + shown.length > LAST) return null;
  const unit = String.fromCharCode(FIRST + shown.length);
  shown.push({ text, wide });
  units.set(text, unit);
  return unit;
};

const walked = new WeakMap<object, unknown>();

const walk = (value: unknown): unknown => {
  if (typeof value === 'string') return inColumns(value);
  if (typeof value !== 'object' || value === null) return value;
  const before = walked.get(value);
  if (before !== undefined) return before;
  const made = Array.isArray(value) ? list(value) : record(value);
  walked.set(value, made);
  return made;
};

const list = (value: readonly unknown[]): unknown => {
  const made = value.map(walk);
  return made.some((one, at) => one !== value[at]) ? made : value;
};

const record = (value: object): unknown => {
  let changed = false;
  const made: Record<string, unknown> = {};
  for (const [key, one] of Object.entries(value)) {
    const name = inColumns(key);
    made[name] = walk(one);
    changed ||= name !== key || made[name] !== one;
  }
  return changed ? made : value;
};
