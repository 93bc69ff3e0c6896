import { heldMetres } from '../../core/views/held-metres.js';
import { WARNING_TARGET } from '../../core/views/warning-rate.js';
import { type Block, list, type Section, say } from '../document.js';
import { productBlocks, tracedBlocks } from '../sections/traced.js';
import type { Telling } from '../telling.js';
import { type Earlier, noticedEarlier } from './noticed-earlier.js';
import { coveredM, savedByWarning } from './saved-by-warning.js';

/** What was made, what of it is held, and what the early warnings were worth. */
export function product(telling: Telling): Section {
  const { view, long } = telling;
  const held = heldMetres(view);
  const share = view.made_m === null || view.made_m <= 0 ? '' : `, ${percent(held / view.made_m)} of what was made`;
  return {
    id: 'product',
    title: 'Product',
    blocks: [
      ...tracedBlocks(telling),
      ...productBlocks(telling),
      {
        kind: 'facts',
        facts: [
          { term: 'Made', says: [long(view.made_m)] },
          {
            term: 'Held',
            says: [
              held === 0
                ? 'nothing'
                : `${long(held)}${share}: something was, or between two checks may have been, out of tolerance, or a plate was dirty`,
            ],
          },
          ...(view.whole === undefined ? [] : [{ term: 'Out', says: [outWords(telling)] }]),
          { term: 'Warnings', says: [warningWords(telling)] },
        ],
      },
      ...earlierBlocks(telling),
      ...savedBlocks(telling),
    ],
  };
}

const percent = (share: number): string => `${(share * 100).toFixed(share < 0.1 ? 1 : 0)} %`;

function warningWords({ view }: Telling): string {
  const { whole } = view;
  if (whole === undefined) return `${view.stories.length}`;
  const { total, each_hour, most_in_10_min } = whole.warnings;
  const hours = `${total} in ${whole.running_h.toFixed(1)} hours of running`;
  if (each_hour === null) return `${hours}: too short to say how many an hour`;
  return `${hours}, ${each_hour.toFixed(2)} an hour, at most ${most_in_10_min} in any ten minutes (published guidance for alarms in general: at most ${WARNING_TARGET.each_hour} an hour in the long run, ${WARNING_TARGET.most_in_10_min} in ten minutes after an upset; UK HSE Chemicals Sheet 6)`;
}

function outWords({ view, long }: Telling): string {
  const { out, running_h } = view.whole ?? { out: null, running_h: 0 };
  if (out === null) return 'not known';
  if (out.at_most.m === 0) return running_h === 0 ? 'not known' : 'of register: never, as far as the checks can tell';
  const min = ({ min }: { readonly min: number }): string => `${Math.round(min)} min`;
  return `of register: surely ${long(out.surely.m)} and ${min(out.surely)} (checks at both ends were out), at most ${long(out.at_most.m)} and ${min(out.at_most)} (one of them was)`;
}

function savedBlocks(telling: Telling): readonly Block[] {
  const saved = savedByWarning(telling.view);
  if (saved.length === 0) return [];
  const { long } = telling;
  const all = coveredM(saved.map(({ plain }) => plain)) - coveredM(saved.map(({ held }) => held));
  const open = saved.some(({ atLeast }) => atLeast) ? 'at least ' : '';
  const words =
    all > 0
      ? `early warning kept ${open}${long(all)} of product from being held`
      : all < 0
        ? `${long(-all)} more was held than with a plain chart`
        : 'early warning made no difference to what was held';
  return [
    say(
      `An estimate, from the same readings with the corrections taken out again and turned only when a plain three-sigma chart signalled: ${words}.`,
    ),
    list(
      saved.map(
        ({ event, plain_m, held_m, atLeast }) =>
          `Movement ${event}: ${long(held_m)} held; with the plain chart ${atLeast ? 'at least ' : ''}${long(plain_m)}.`,
      ),
    ),
  ];
}

function earlierBlocks(telling: Telling): readonly Block[] {
  const found = noticedEarlier(telling.view);
  if (found.length === 0)
    return [
      say(
        'Whether a plain three-sigma chart would have noticed later cannot be said: no movement of a single station with a chart.',
      ),
    ];
  return [
    say('Against a plain chart with three-sigma limits on the same readings (replayed; an estimate):'),
    list(found.map((one) => earlierWords(one, telling))),
  ];
}

function earlierWords({ event, metres, atLeast }: Earlier, { long }: Telling): string {
  if (metres === 0) return `Movement ${event} was noticed no earlier.`;
  return atLeast
    ? `Movement ${event} was noticed at least ${long(metres)} earlier; the plain chart had not noticed by then.`
    : `Movement ${event} was noticed ${long(metres)} earlier.`;
}
