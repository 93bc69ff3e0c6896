import type { PlateView, RegisterState } from '../../core/views/board-view.js';

/** Each state from its fullest word to its shortest; every one is a whole word. */
const STATES: Readonly<Record<RegisterState, readonly string[]>> = {
  holding: ['holding', 'holds'],
  moved: ['moved'],
  drifting: ['drifting', 'drifts'],
  out: ['OUT'],
  'not enough readings': ['too few', 'few'],
  'not read': ['not read', 'unread'],
};

const PLATES: Readonly<Record<string, readonly string[]>> = {
  clean: ['clean'],
  building: ['building', 'builds'],
  dirty: ['DIRTY'],
  'wash-due': ['wash-due', 'wash'],
  washed: ['washed'],
  'not seen': ['not seen', 'unseen'],
};

export const stateWord = (state: RegisterState): string => STATES[state][0] ?? state;

/** The fullest word of a state that a column of this width has room for, or null: then it is said in a sentence. */
export const stateIn = (state: RegisterState, width: number): string | null =>
  STATES[state].find((one) => one.length <= width) ?? null;

export const referenceIn = (width: number): string | null =>
  ['reference', 'ref.'].find((one) => one.length <= width) ?? null;

/** What a plate is, in the word that the column has room for. */
export const plateIn = (words: string, width: number): string | null =>
  (PLATES[words] ?? [words]).find((one) => one.length <= width) ?? null;

/** The word of a plate: its flag, that it was washed and not seen since, or its grade. */
export const plateWordOf = ({ flag, grade, washed }: PlateView): string => {
  if (flag !== null) return flag;
  // The grade is that of before the wash until a sample printed since is seen.
  if (washed?.seen === false) return 'washed';
  return grade ?? 'not seen';
};

/**
 * Where one word does not fit its column the row becomes a sentence: the ones that matter by name, the rest in a word.
 * "5 OUT, 7 8 drifting, the rest holding". What there is no room for is counted, never cut.
 */
export const grouped = (items: readonly { readonly id: string; readonly word: string }[], width: number): string => {
  const words = [...new Set(items.map((one) => one.word))];
  const common = words.reduce(
    (most, word) => (countOf(items, word) > countOf(items, most) ? word : most),
    words[0] ?? '',
  );
  const rest = `${words.length > 1 ? 'the rest' : 'all'} ${common}`;
  const named = words
    .filter((word) => word !== common)
    .sort((a, b) => rank(a) - rank(b))
    .map(
      (word) =>
        `${items
          .filter((one) => one.word === word)
          .map((one) => one.id)
          .join(' ')} ${word}`,
    );
  for (let kept = named.length; kept >= 0; kept -= 1) {
    const left = named.length - kept;
    const text = [...named.slice(0, kept), left > 0 ? `${left} more kinds: i` : rest].join(', ');
    if (text.length <= width) return text;
  }
  return '';
};

const ORDER = ['OUT', 'DIRTY', 'dirty', 'drifting', 'moved', 'building', 'wash-due', 'not read'];
const rank = (word: string): number => {
  const at = ORDER.findIndex((one) => word.startsWith(one));
  return at < 0 ? ORDER.length : at;
};
const countOf = (items: readonly { readonly word: string }[], word: string): number =>
  items.filter((one) => one.word === word).length;
