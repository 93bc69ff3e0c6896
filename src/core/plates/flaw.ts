import { capital } from '../capital.js';
import { quoted } from '../quoted.js';
import type { FlawComes, FlawEdge, FlawKind, StationReading } from '../record.js';
import { fail, ok, type Result } from '../result.js';

/** What was seen of the flaw on a plate that is not clean; null = not said. */
export type Flaw = {
  readonly kind: FlawKind | null;
  /** At which edge of type and tones it sits, as the web runs. */
  readonly edge: FlawEdge | null;
  readonly comes: FlawComes | null;
};

export const NO_FLAW: Flaw = { kind: null, edge: null, comes: null };

export const FLAW_KINDS: readonly FlawKind[] = ['fill-in', 'speck', 'halo', 'dried ink', 'void'];

export const isNoFlaw = (flaw: Flaw): boolean => flaw.kind === null && flaw.edge === null && flaw.comes === null;

/** What a reading says of the flaw; a plate that is clean, or was not graded, has none. */
export const flawOf = (reading: Pick<StationReading, 'plate' | 'flaw_kind' | 'flaw_edge' | 'flaw_comes'>): Flaw =>
  reading.plate === null || reading.plate === 'clean'
    ? NO_FLAW
    : { kind: reading.flaw_kind ?? null, edge: reading.flaw_edge ?? null, comes: reading.flaw_comes ?? null };

/** The same as the fields of a reading; what was not said has no field. */
export const flawFields = (flaw: Flaw): Pick<StationReading, 'flaw_kind' | 'flaw_edge' | 'flaw_comes'> => ({
  ...(flaw.kind === null ? {} : { flaw_kind: flaw.kind }),
  ...(flaw.edge === null ? {} : { flaw_edge: flaw.edge }),
  ...(flaw.comes === null ? {} : { flaw_comes: flaw.comes }),
});

/** "fill-in at the leading edge, same place every repeat"; '' when nothing was said. */
export const flawWords = ({ kind, edge, comes }: Flaw): string =>
  [
    [kind ?? (edge === null ? '' : 'flaws'), edge === null ? '' : `at the ${edge} edge`]
      .filter((w) => w !== '')
      .join(' '),
    comes === null ? '' : comes === 'moves' ? 'not at the same place' : 'same place every repeat',
  ]
    .filter((w) => w !== '')
    .join(', ');

/** The same as a sentence: "Fill-in at the leading edge, same place every repeat."; '' when nothing was said. */
export const flawSentence = (flaw: Flaw): string => {
  const words = flawWords(flaw);
  return words === '' ? '' : `${capital(words)}.`;
};

/** "fill-in, leading edge, same place": as it is keyed at the shell and stands in a file; `flawFrom` reads it back. */
export const flawList = ({ kind, edge, comes }: Flaw): string =>
  [kind, edge === null ? null : `${edge} edge`, comes].filter((word) => word !== null).join(', ');

/**
 * The flaw as keyed in words divided by commas: kind, edge and whether it comes back, in any order, each cut short as long as it
 * stays plain, capitals and hyphens as one likes. Refused: a word that is none of them or may be two, and two of one sort.
 * Example: `fill,lead,same` → fill-in, leading edge, same place.
 */
export const flawFrom = (text: string): Result<Flaw> => {
  let flaw = NO_FLAW;
  for (const typed of text.split(',')) {
    if (typed.trim() === '') continue;
    const word = flat(typed);
    const meant = WORDS.filter(({ as }) => as.some((one) => word !== '' && one.startsWith(word)));
    const [only] = meant;
    if (only === undefined) return fail(`${quoted(typed.trim())} is no word for a flaw; ${ALLOWED}`);
    if (meant.length > 1)
      return fail(`${quoted(typed.trim())} may be ${meant.map(({ says }) => says).join(' or ')}; write more of it`);
    const twice = (Object.keys(only.flaw) as (keyof Flaw)[]).find((sort) => flaw[sort] !== null);
    if (twice !== undefined && flaw[twice] !== only.flaw[twice])
      return fail(`${flaw[twice]} and ${only.says} at once; give the one that is most`);
    flaw = { ...flaw, ...only.flaw };
  }
  return ok(flaw);
};

type Word = { readonly says: string; readonly as: readonly string[]; readonly flaw: Partial<Flaw> };

const WORDS: readonly Word[] = [
  ...FLAW_KINDS.map((kind): Word => ({ says: kind, as: [kind.replaceAll(/[- ]/g, '')], flaw: { kind } })),
  { says: 'leading edge', as: ['leadingedge'], flaw: { edge: 'leading' } },
  { says: 'trailing edge', as: ['trailingedge'], flaw: { edge: 'trailing' } },
  { says: 'same place', as: ['sameplaceeveryrepeat'], flaw: { comes: 'same place' } },
  { says: 'moves', as: ['moves', 'moving'], flaw: { comes: 'moves' } },
];

const ALLOWED = 'fill-in, speck, halo, dried ink, void; leading or trailing edge; same place or moves';

const flat = (word: string): string =>
  word
    .trim()
    .toLowerCase()
    .replaceAll(/[-_\s]/g, '');
