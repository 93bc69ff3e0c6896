/** One JSON document as text, names and notes exactly as they were given: JSON itself makes them harmless. */
export const jsonText = (value: unknown): string =>
  `${JSON.stringify(value, null, 2).replace(UNSAFE, (found) => `\\u${found.charCodeAt(0).toString(16).padStart(4, '0')}`)}\n`;

/** Control characters that JSON leaves as they are, direction marks and line separators: written as \\u escapes, so that no terminal obeys them. */
const UNSAFE = /[\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]/g;
