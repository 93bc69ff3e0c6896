import { listWords } from '../../core/views/event-words.js';
import { wholeWords } from '../../core/views/number-words.js';
import { type Block, say } from '../document.js';
import type { Telling } from '../telling.js';

/** What the product was made from, as facts; nothing where the job file gives none. */
export const tracedBlocks = ({ view }: Telling): readonly Block[] =>
  (view.traced ?? []).length === 0
    ? []
    : [{ kind: 'facts', facts: (view.traced ?? []).map(({ term, says }) => ({ term, says: [says] })) }];

/** "May ship: rolls 1, 4 and 8." and what became of the rest, in labels; nothing before OK to run. */
export function productBlocks({ view }: Telling): readonly Block[] {
  const { product } = view;
  if (product === undefined || product.made === 0) return [];
  const ship =
    product.may_ship.length === 0
      ? 'May ship: no finished roll yet.'
      : `May ship, nothing is held of ${product.may_ship.length === 1 ? 'it' : 'them'}: ${product.may_ship.length === 1 ? 'roll' : 'rolls'} ${listWords(product.may_ship)}.`;
  const of = product.ordered === null ? '' : ` of ${wholeWords(product.ordered)} ordered`;
  const became = (['held', 'released', 'reworked', 'scrapped'] as const)
    .filter((what) => product[what] > 0)
    .map((what) => `${wholeWords(product[what])} ${what === 'held' ? 'on hold' : what}`);
  return [
    say(`${ship} Labels made: ${wholeWords(product.made)}${of}${became.length === 0 ? '' : `, ${became.join(', ')}`}.`),
  ];
}
