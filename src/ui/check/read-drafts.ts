import type { Draft } from './draft.js';

export type ReadDrafts = {
  readonly drafts: Readonly<Record<string, Draft>>;
  /** Something in it is not in the form that this program writes. */
  readonly odd: boolean;
};

/** Half-keyed checks as they were kept. Each is held against what the grid relies on: one of another version must not take the board away. */
export function readDrafts(text: string): ReadDrafts {
  let found: unknown;
  try {
    found = JSON.parse(text);
  } catch {
    return { drafts: {}, odd: true };
  }
  if (!isObject(found)) return { drafts: {}, odd: true };
  const sound = Object.entries(found).filter((entry): entry is [string, Draft] => isDraft(entry[1]));
  return { drafts: Object.fromEntries(sound), odd: sound.length < Object.keys(found).length };
}

const isObject = (one: unknown): one is Record<string, unknown> =>
  typeof one === 'object' && one !== null && !Array.isArray(one);
const isText = (one: unknown): one is string => typeof one === 'string';
const areTexts = (one: unknown): boolean => Array.isArray(one) && one.every(isText);

const isDraft = (one: unknown): boolean =>
  isObject(one) &&
  (isText(one.check) || Number.isInteger(one.check)) &&
  Number.isFinite(one.web_m) &&
  (one.roll === null || isText(one.roll)) &&
  (one.label_of === undefined || isText(one.label_of) || Number.isInteger(one.label_of)) &&
  isText(one.pulled_at) &&
  !Number.isNaN(Date.parse(one.pulled_at)) &&
  isObject(one.rows) &&
  Object.values(one.rows).every(isRow) &&
  (one.at === 'save' || isCell(one.at)) &&
  (one.edges === undefined || areTexts(one.edges)) &&
  areTexts(one.asked) &&
  (one.message === null || isText(one.message)) &&
  (one.throwing === undefined || one.throwing === true) &&
  isText(one.note) &&
  typeof one.writing === 'boolean' &&
  (one.margins === null || isMargins(one.margins));

const isRow = (one: unknown): boolean =>
  isObject(one) &&
  isText(one.along) &&
  isText(one.across) &&
  isText(one.plate) &&
  (one.look === null || one.look === 'in' || one.look === 'off') &&
  (one.flaw === undefined || isObject(one.flaw));

const isCell = (one: unknown): boolean =>
  isObject(one) && isText(one.station) && (one.cell === 'along' || one.cell === 'across' || one.cell === 'plate');

const isMargins = (one: unknown): boolean =>
  isObject(one) &&
  isText(one.station) &&
  areTexts(one.texts) &&
  Array.isArray(one.texts) &&
  one.texts.length === 4 &&
  [0, 1, 2, 3].some((at) => at === one.at);
