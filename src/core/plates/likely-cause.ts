import type { FlawEdge, FlawKind } from '../record.js';
import type { Flaw } from './flaw.js';

/**
 * Where to look, as a suggestion, from which plates are flagged together (of `plates` on the press) and what the flaw on this one
 * is. null: nothing to suggest.
 * Sources (TRADE section 5): filling-in begins as a rule at the leading edge, at the trailing edge it points to too much nip
 * pressure or ink film (TAGA abstract); halo and hickey (PrintWiki). A flaw that comes back every repeat at the same place sits on
 * the plate or its cylinder, one that moves is debris: derived there. All plates at once pointing to ink or drying: common practice,
 * no source.
 */
export const likelyCause = (flagged: readonly string[], plates: number, flaw: Flaw): string | null => {
  const together = plates >= 3 && flagged.length >= Math.max(3, Math.ceil(plates / 2));
  const words = [
    together ? 'Several plates together: look at ink and drying first.' : '',
    // A flaw that was followed from repeat to repeat says more than that the other plates are clean.
    flaw.comes === null && flagged.length === 1 ? 'One plate alone: that plate or its anilox.' : '',
    flaw.comes === 'same place' ? 'Once a repeat at the same place: it sits on the plate or its cylinder.' : '',
    flaw.comes === 'moves' ? 'A flaw that moves is debris, not the plate: dust off the web, ink skin, fibres.' : '',
    flaw.kind === null || flaw.kind === 'fill-in' ? edgeWords(flaw) : KIND_WORDS[flaw.kind],
  ].filter((one) => one !== '');
  return words.length === 0 ? null : words.join(' ');
};

const edgeWords = ({ kind, edge }: Flaw): string => {
  if (edge !== null) return EDGE_WORDS[edge];
  return kind === null ? '' : `${EDGE_WORDS.leading} ${EDGE_WORDS.trailing}`;
};

const EDGE_WORDS: Readonly<Record<FlawEdge, string>> = {
  leading: 'Filling in at the leading edge is ink drying in as a rule.',
  trailing: 'At the trailing edge look for too much impression or ink.',
};

const KIND_WORDS: Readonly<Record<Exclude<FlawKind, 'fill-in'>, string>> = {
  speck: 'A speck with a pale ring is a particle on the plate, ink skin as a rule.',
  void: 'A void is a particle that takes no ink, a fibre as a rule.',
  halo: 'A halo is too much plate pressure, or ink that spreads.',
  'dried ink': 'Dried ink: look at ink drying speed and how long the press stood.',
};
