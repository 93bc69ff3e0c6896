import { HIDDEN } from './hidden-characters.js';

/** A value as it was found, safe to print in a message: short, one line, control and escape characters shown as codes. */
export const quoted = (value: unknown): string => {
  if (value === undefined) return 'nothing';
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'object' && value !== null) return 'a block of keys { … }';
  const text = typeof value === 'string' ? JSON.stringify(visible(value)) : String(value);
  return text.length <= LONGEST ? text : `${text.slice(0, LONGEST)}…`;
};

/** Text with every control, escape and text-direction character replaced by its code. */
export const visible = (text: string): string =>
  text.replace(
    STEERING,
    (character) => `<${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(2, '0')}>`,
  );

const LONGEST = 60;
const STEERING = new RegExp(`[\\u0000-\\u001f\\u007f-\\u009f]|${HIDDEN.source}`, 'g');
