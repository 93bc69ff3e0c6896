import { idSchema } from '../press-schema.js';
import { quoted } from '../quoted.js';
import { fail, ok, type Result } from '../result.js';

/** Print stations in web order, from how many (`6` → 1 to 6) or from their names (`W 1 2 3`, or with commas where names have blanks in them). */
export const understandStations = (text: string): Result<readonly string[]> => {
  const typed = text.trim();
  if (/^\d{1,4}$/.test(typed)) {
    const count = Number(typed);
    if (count < 1 || count > MOST) return fail(`${count} print stations? Allowed: 1 to ${MOST}`);
    return ok(Array.from({ length: count }, (_, i) => String(i + 1)));
  }
  const range = /^(\d{1,2})\s*(?:-|–|to|\.\.)\s*(\d{1,2})$/i.exec(typed);
  if (range !== null) return countUp(Number(range[1]), Number(range[2]), typed);
  if (NUMBER_WORDS.includes(typed.toLowerCase())) return fail(`how many is that? Write ${quoted(typed)} in digits`);
  const names = (typed.includes(',') ? typed.split(',') : typed.split(/\s+/))
    .map((name) => name.trim())
    .filter(Boolean);
  for (const [index, name] of names.entries()) {
    if (!idSchema.safeParse(name).success)
      return fail(
        `${quoted(name)} cannot be the name of a station: 1 to 16 letters and digits, blank, point, - or _ inside`,
      );
    if (names.indexOf(name) < index) return fail(`${quoted(name)} is there twice; every station needs its own name`);
  }
  return names.length <= MOST ? ok(names) : fail(`${names.length} print stations? Allowed: 1 to ${MOST}`);
};

/** One less than a press file takes: there may be a die. */
const MOST = 39;
const NUMBER_WORDS = [
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
];

const countUp = (first: number, last: number, typed: string): Result<readonly string[]> =>
  last < first || last - first >= MOST
    ? fail(`${quoted(typed)} does not count up; write the first and the last station, as 1-6`)
    : ok(Array.from({ length: last - first + 1 }, (_, i) => String(first + i)));
