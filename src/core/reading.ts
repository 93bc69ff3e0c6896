import type { Axis } from './axis.js';
import { quoted } from './quoted.js';
import { fail, ok, type Result } from './result.js';
import { MM_PER_INCH, type RegisterUnit, registerFromMm, registerToMm, sideWord } from './units.js';

/** A number as keyed at the press: mm with the sign of the print, null = not read; and what the field shows before Enter. */
export type Keyed = { readonly mm: number | null; readonly echo: string };

/**
 * What the operator meant by the keys of one field of the check grid.
 *
 * Whole digits count hundredths of a mm in a mm job (`5` = 0.05), thou in a thou or inch job, 64ths in a 64ths job; with a point or a comma the
 * number is taken as written in the job's unit; a fraction (`3/64`) is of an inch in every job. The side stands before or after: A ahead, B behind,
 * O operator side, G gear side, or + and −; a non-zero number without one is refused, since half of such guesses would be turned the wrong way.
 * Blank is "not read". Refused above 50 mm. Example: `12g` across in a mm job → −0.12 mm, `0.12 GEAR SIDE`.
 */
export const parseKeyed = (text: string, unit: RegisterUnit, axis: Axis): Result<Keyed> => {
  const typed = text.trim();
  if (typed === '') return ok({ mm: null, echo: NOT_READ });
  const parts = split(typed);
  if (parts === null) return fail(`${quoted(typed)} is not a reading; key a number and its side, as ${EXAMPLE[axis]}`);
  const side = sideOf(parts.sides, axis);
  if (!side.ok) return side;
  const size = sizeOf(parts.number, unit);
  if (!size.ok) return size;
  if (size.value === 0) return ok({ mm: 0, echo: unit === 'mm' ? '0.00' : '0' });
  if (side.value === 0) return fail(`${sizeWords(size.value, unit, parts.number)}: which side? Add ${SIDES[axis]}`);
  const mm = side.value * size.value;
  return ok({ mm, echo: `${sizeWords(size.value, unit, parts.number)} ${sideWord(mm, axis)}` });
};

/** What the field shows while it is being typed: the reading as it would be taken, or what is still missing. */
export const echoKeyed = (text: string, unit: RegisterUnit, axis: Axis): string => {
  const read = parseKeyed(text, unit, axis);
  if (read.ok) return read.value.mm === null ? '' : read.value.echo;
  const parts = split(text.trim());
  if (parts === null) return 'not a number';
  const side = sideOf(parts.sides, axis);
  if (!side.ok) return `side? ${SIDES[axis]}`;
  if (parts.number === '') return `how much ${sideWord(side.value, axis)}?`;
  const size = sizeOf(parts.number, unit);
  if (!size.ok)
    return /[/]$/.test(parts.number)
      ? `${parts.number}…`
      : mmOf(parts.number, unit) === null
        ? 'not a number'
        : `more than ${LARGEST_MM} mm`;
  return `${sizeWords(size.value, unit, parts.number)}, ${SIDES[axis]}?`;
};

/** A margin between print and cut as keyed: as a reading, but it has no side and is never negative. null = not read. */
export const parseMargin = (text: string, unit: RegisterUnit): Result<Keyed> => {
  const typed = text.trim();
  if (typed === '') return ok({ mm: null, echo: NOT_READ });
  const size = sizeOf(typed, unit);
  return size.ok ? ok({ mm: size.value, echo: sizeWords(size.value, unit, typed) }) : size;
};

/**
 * Register of the die from the two margins between print and cut, mm. Along: front (leading edge, toward the rewind) and back, + = cut
 * ahead; across: operator side and gear side, + = cut toward the operator side. Half the difference, since a cut that moves by x widens one
 * margin and narrows the other by x. Example: front 3.2, back 2.8 → +0.2.
 */
export const fromMargins = (first_mm: number, second_mm: number): number => (first_mm - second_mm) / 2;

const NOT_READ = 'not read';
const LARGEST_MM = 50;
const EXAMPLE: Readonly<Record<Axis, string>> = {
  along: '5A (ahead) or 5B (behind)',
  across: '5O (operator side) or 5G (gear side)',
};
const SIDES: Readonly<Record<Axis, string>> = {
  along: 'A ahead or B behind',
  across: 'O operator side or G gear side',
};

const SIDE = '(?:[+\\-−–]|a|ahead|b|behind|o|op|operator(?: side)?|g|gear(?: side)?)';
const PARTS = new RegExp(`^(${SIDE}?)\\s*(${SIDE}?)\\s*([\\d.,/]*)\\s*(${SIDE}?)$`, 'i');
const PLUS: Readonly<Record<Axis, string>> = { along: 'a', across: 'o' };
const MINUS: Readonly<Record<Axis, string>> = { along: 'b', across: 'g' };

const split = (typed: string): { readonly number: string; readonly sides: readonly string[] } | null => {
  const found = PARTS.exec(typed);
  if (found === null) return null;
  const sides = [found[1], found[2], found[4]]
    .filter((side) => side !== undefined && side !== '')
    .map((side) => String(side).toLowerCase());
  return { number: found[3] ?? '', sides };
};

/** +1, −1, or 0 when no side was keyed. */
const sideOf = (sides: readonly string[], axis: Axis): Result<1 | -1 | 0> => {
  const signs = new Set<1 | -1>();
  for (const side of sides) {
    const letter = side.charAt(0);
    if (letter === '+' || letter === PLUS[axis]) signs.add(1);
    else if (/[-−–]/.test(letter) || letter === MINUS[axis]) signs.add(-1);
    else return fail(`${quoted(side.toUpperCase())} is no side ${axis}; use ${SIDES[axis]}`);
  }
  if (signs.size > 1)
    return fail(`two sides at once (${sides.map((side) => side.toUpperCase()).join(' and ')}); use ${SIDES[axis]}`);
  return ok([...signs][0] ?? 0);
};

const sizeOf = (number: string, unit: RegisterUnit): Result<number> => {
  const mm = mmOf(number, unit);
  if (mm === null)
    return fail(
      number === ''
        ? 'no number; key how much, or leave the field blank for "not read"'
        : `${quoted(number)} is not a number`,
    );
  if (mm > LARGEST_MM) return fail(`${sizeWords(mm, unit, number)} is more than ${LARGEST_MM} mm; key it again`);
  // A billionth of a mm: 3/64 in is then the same number however it was keyed.
  return ok(Number(mm.toFixed(9)));
};

const mmOf = (number: string, unit: RegisterUnit): number | null => {
  const fraction = /^(\d{1,4})\/(2|4|8|16|32|64|128)$/.exec(number);
  if (fraction !== null) return (Number(fraction[1]) / Number(fraction[2])) * MM_PER_INCH;
  if (/^\d{1,9}$/.test(number)) return wholeToMm(Number(number), unit);
  if (/^(?:\d{1,9}[.,]\d{0,9}|[.,]\d{1,9})$/.test(number)) return registerToMm(Number(number.replace(',', '.')), unit);
  return null;
};

const wholeToMm = (digits: number, unit: RegisterUnit): number => {
  if (unit === 'mm') return digits / 100;
  return registerToMm(digits, unit === 'in' ? 'thou' : unit);
};

/** The size as taken, no digit of it rounded away that was keyed: `0.125`, `5 thou`, `0.005 in`, `3/64 in`. */
const sizeWords = (mm: number, unit: RegisterUnit, keyed: string): string => {
  const value = registerFromMm(mm, unit);
  const inches = keyed.includes('/') ? ` (${keyed} in)` : '';
  if (unit === 'mm') return `${decimals(value, 2)}${inches}`;
  if (unit === 'thou') return `${decimals(value, 0)} thou${inches}`;
  if (unit === 'in') return `${decimals(value, 3)} in${inches}`;
  return `${decimals(value, 0)}/64 in`;
};

/** At least `fewest` decimals, at most two more. */
const decimals = (value: number, fewest: number): string => {
  const [whole = '', part = ''] = value.toFixed(fewest + 2).split('.');
  const kept = part.replace(/0+$/, '').padEnd(fewest, '0');
  return kept === '' ? whole : `${whole}.${kept}`;
};
