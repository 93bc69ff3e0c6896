import { type Block, list, type Section, say } from '../document.js';
import type { Telling } from '../telling.js';
import { type Earlier, noticedEarlier } from './noticed-earlier.js';

/** What was made, what of it is held, and what the early warnings were worth. */
export function product(telling: Telling): Section {
  const { view, at } = telling;
  const held = view.holds.reduce(
    (sum, hold) => sum + ((hold.to_m ?? view.board.position.web_m ?? hold.from_m) - hold.from_m),
    0,
  );
  const share = view.made_m === null || view.made_m <= 0 ? '' : `, ${percent(held / view.made_m)} of what was made`;
  return {
    id: 'product',
    title: 'Product',
    blocks: [
      {
        kind: 'facts',
        facts: [
          { term: 'Made', says: [at(view.made_m)] },
          {
            term: 'Held',
            says: [
              held === 0
                ? 'nothing'
                : `${at(held)}${share}: something was, or between two checks may have been, out of tolerance, or a plate was dirty`,
            ],
          },
          { term: 'Warnings', says: [warningWords(telling)] },
        ],
      },
      ...earlierBlocks(telling),
    ],
  };
}

const percent = (share: number): string => `${(share * 100).toFixed(share < 0.1 ? 1 : 0)} %`;

function warningWords({ view }: Telling): string {
  const hours = (Date.parse(view.made_at) - Date.parse(view.since_at)) / 3_600_000;
  const count = view.stories.length;
  if (!(hours > 0)) return `${count}`;
  return `${count} in ${hours.toFixed(1)} hours, ${(count / hours).toFixed(2)} an hour (guidance for alarms in general: at most 6 an hour in the long run, UK HSE Chemicals Sheet 6)`;
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

function earlierWords({ event, metres, atLeast }: Earlier, { at }: Telling): string {
  if (metres === 0) return `Movement ${event} was noticed no earlier.`;
  return atLeast
    ? `Movement ${event} was noticed at least ${at(metres)} earlier; the plain chart had not noticed by then.`
    : `Movement ${event} was noticed ${at(metres)} earlier.`;
}
