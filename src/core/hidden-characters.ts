/*
 * Characters that nobody sees but that turn the text beside them about (direction marks) or make two names that look the same differ (zero width). What
 * joins the letters of a script (U+200C, U+200D) is none of them. An entry is kept without them (runtime/without-controls.ts); logs and files of before
 * may hold them, so every answer is rid of them again on its way out.
 */
export const HIDDEN = /[\u061c\u200b\u200e\u200f\u2028-\u202e\u2060\u2066-\u2069\ufeff]/;
const ALL = new RegExp(HIDDEN.source, 'g');

export const withoutHidden = (text: string): string => (HIDDEN.test(text) ? text.replace(ALL, '') : text);

/** JSON that says the same, with such characters and the control characters that JSON leaves as they are written as codes: no terminal obeys them. */
export const jsonWithCodes = (value: unknown, space?: number): string =>
  JSON.stringify(value, null, space).replace(
    CODED,
    (found) => `\\u${found.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );

const CODED = new RegExp(`[\\u007f-\\u009f]|${HIDDEN.source}`, 'g');
