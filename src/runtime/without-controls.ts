/**
 * A fact with every control and escape character in its texts turned into a space: nobody keys them, and what reads the log later (a terminal, a
 * spreadsheet) might obey them. Line ends stay. The same object when there were none.
 */
export const withoutControls = <T>(value: T): T => {
  if (typeof value === 'string') return (CONTROL.test(value) ? value.replaceAll(CONTROLS, ' ').trim() : value) as T;
  if (typeof value !== 'object' || value === null) return value;
  const clean = Array.isArray(value)
    ? value.map(withoutControls)
    : Object.fromEntries(Object.entries(value).map(([key, one]) => [key, withoutControls(one)]));
  const same = Object.entries(value).every(([key, one]) => Reflect.get(clean, key) === one);
  return same ? value : (clean as T);
};

const CONTROL = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u2028\u2029]/;
const CONTROLS = new RegExp(CONTROL.source, 'g');
