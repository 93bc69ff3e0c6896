/**
 * A fact with every control and escape character in its texts turned into a space: nobody keys them, and what reads the log later (a terminal, a
 * spreadsheet) might obey them. Line ends stay. Characters that nobody sees but that turn the text beside them about (direction marks) or make two names
 * that look the same differ (zero width) are left out; what joins letters of a script stays. The same object when there were none.
 */
export const withoutControls = <T>(value: T): T => {
  if (typeof value === 'string') return clean(value) as T;
  if (typeof value !== 'object' || value === null) return value;
  const made = Array.isArray(value)
    ? value.map(withoutControls)
    : Object.fromEntries(Object.entries(value).map(([key, one]) => [key, withoutControls(one)]));
  const same = Object.entries(value).every(([key, one]) => Reflect.get(made, key) === one);
  return same ? value : (made as T);
};

const clean = (text: string): string => {
  const seen = UNSEEN.test(text) ? text.replaceAll(new RegExp(UNSEEN.source, 'g'), '') : text;
  return CONTROL.test(seen) ? seen.replaceAll(CONTROLS, ' ').trim() : seen;
};

const UNSEEN = /[\u061c\u200b\u200e\u200f\u202a-\u202e\u2060\u2066-\u2069\ufeff]/;
const CONTROL = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u2028\u2029]/;
const CONTROLS = new RegExp(CONTROL.source, 'g');
