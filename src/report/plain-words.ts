/**
 * Makes a name or note that a person or a device gave harmless in every format, keeping what it says: escape sequences, control and
 * direction characters, invisible characters and lone surrogates go, line ends become spaces, runs of right-to-left script are
 * isolated so that numbers beside them keep their places. Very long words are left whole; renderers break them.
 */
export function plainWords(text: string): string {
  return text
    .replace(ESCAPE_SEQUENCES, '')
    .replace(LINE_ENDS, ' ')
    .replace(CONTROLS, '')
    .replace(INVISIBLE, '')
    .replace(LONE_SURROGATES, '\uFFFD')
    .replace(/ {2,}/g, ' ')
    .trim()
    .replace(RIGHT_TO_LEFT_RUN, (run) => `${FIRST_STRONG_ISOLATE}${run}${POP_ISOLATE}`);
}

/** A view with every string in it made harmless, keys and numbers untouched. */
export function plainView<T>(value: T): T {
  return walk(value) as T;
}

export const FIRST_STRONG_ISOLATE = '\u2068';
export const POP_ISOLATE = '\u2069';

const ESCAPE_SEQUENCES =
  /\u001b\[[0-?]*[ -/]*[@-~]|\u009b[0-?]*[ -/]*[@-~]|(?:\u001b[\]PX^_]|[\u0090\u0098\u009d-\u009f])[^\u0007\u001b\u009c]*(?:\u0007|\u001b\\|\u009c)?|\u001b[ -/]*[0-~]?/g;
const LINE_ENDS = /\r\n|[\n\r\t\v\f\u0085\u2028\u2029]/g;
const CONTROLS = /[\u0000-\u001f\u007f-\u009f]/g;
const INVISIBLE =
  /[\u00ad\u061c\u180e\u200b-\u200f\u202a-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\ufffe\uffff]|[\u{1d173}-\u{1d17a}]|[\u{e0000}-\u{e0fff}]/gu;
const LONE_SURROGATES = /[\ud800-\udfff]/gu;
const RIGHT_TO_LEFT_RUN =
  /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc](?:[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\s]*[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc])?/g;

function walk(value: unknown): unknown {
  if (typeof value === 'string') return plainWords(value);
  if (Array.isArray(value)) return value.map(walk);
  if (value !== null && typeof value === 'object')
    return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, walk(inner)]));
  return value;
}
