import type { FlawKind } from '../record.js';

/**
 * Where to look, as a suggestion, from which plates are flagged together and what the flaws look like. null: nothing to suggest.
 * Sources (TRADE section 5): filling-in begins as a rule at the leading edge, at the trailing edge it points to too much nip
 * pressure or ink film (TAGA abstract); halo and hickey (PrintWiki). All plates at once pointing to ink or drying: common
 * practice, no source.
 */
export const likelyCause = (flagged: readonly string[], plates: number, kind: FlawKind | null): string | null => {
  if (plates >= 3 && flagged.length >= Math.max(3, Math.ceil(plates / 2)))
    return 'Several plates together: look at ink and drying first.';
  const where = flagged.length === 1 ? 'One plate alone: that plate or its anilox. ' : '';
  return kind === null ? where.trim() || null : `${where}${KIND_WORDS[kind]}`;
};

const KIND_WORDS: Readonly<Record<FlawKind, string>> = {
  'fill-in':
    'Filling in at the leading edge is ink drying in as a rule; at the trailing edge look for too much impression or ink.',
  speck: 'A speck with a pale ring is a particle on the plate, ink skin as a rule.',
  void: 'A void is a particle that takes no ink, a fibre as a rule.',
  halo: 'A halo is too much plate pressure, or ink that spreads.',
  'dried ink': 'Dried ink: look at ink drying speed and how long the press stood.',
};
