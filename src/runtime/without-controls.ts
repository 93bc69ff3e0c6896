import { withoutHidden } from '../core/hidden-characters.js';

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
  const seen = withoutHidden(text.replace(LINES, ' '));
  return CONTROL.test(seen) ? seen.replaceAll(CONTROLS, ' ').trim() : seen;
};

const LINES = /[\u2028\u2029]/g;
const CONTROL = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/;
const CONTROLS = new RegExp(CONTROL.source, 'g');
