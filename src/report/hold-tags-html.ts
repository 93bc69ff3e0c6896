import type { HoldState } from '../core/record.js';
import type { HandoverView } from '../core/views/handover-view.js';
import { wholeWords } from '../core/views/number-words.js';
import { type ReportDocument, type Section, say } from './document.js';
import { type HoldTag, holdTags } from './hold-tags.js';
import { pageFoot } from './page-foot.js';
import { renderHtml } from './render-html.js';
import { renderText } from './render-text.js';
import { tagWords, whyHeld } from './sections/holds.js';
import { shorten, shortenCells } from './shorten.js';
import { fullStop, type Telling, tellingOf } from './telling.js';

/** Tags for the held rolls as one HTML file, a printed page each; or one page that says there is nothing to hold. */
export const holdTagsHtml = (raw: HandoverView): string => renderHtml(holdTagsDocument(raw), {});

/** The same as plain text, for a printer that knows no more. */
export const holdTagsText = (raw: HandoverView, width = 78): string =>
  renderText(holdTagsDocument(raw), Math.max(40, Math.floor(width)));

/** Product that was released, reworked or scrapped needs no tag any more. */
function holdTagsDocument(raw: HandoverView): ReportDocument {
  const telling = tellingOf(raw);
  const tags = holdTags(telling.view).filter(({ state }) => WAITS.has(state));
  const { board } = telling.view;
  const title = shorten(`Hold tags: ${board.job} on ${board.press}`, 160);
  const subtitle = `Run ${board.run}, printed ${telling.clock.full(telling.view.made_at)}, ${telling.clock.zone}.`;
  const none: Section = { id: 'no-tags', title: 'No tags', blocks: [{ kind: 'say', text: 'No product is on hold.' }] };
  const sections =
    tags.length === 0
      ? [none]
      : tags.map((tag, index) => ({ ...shortenCells(tagSection(tag, index, telling)), ownPage: true }));
  return { title, subtitle, sections, ...pageFoot(telling) };
}

/** Of what it was made from, what who meets the roll looks for. */
const ON_TAG: ReadonlySet<string> = new Set(['Order', 'Customer', 'Substrate lot']);

const WAITS: ReadonlySet<HoldState> = new Set(['hold', 're-inspect'] as const);

function tagSection(tag: HoldTag, index: number, telling: Telling): Section {
  const { view, clock, at, long } = telling;
  const outside = tag.from_outside_m;
  return {
    id: `tag-${index + 1}`,
    title: `HOLD: roll ${tag.roll}`,
    blocks: [
      {
        kind: 'facts',
        facts: [
          { term: 'Job', says: [`${view.board.job}, ${view.board.press}, run ${view.board.run}`] },
          ...(view.traced ?? [])
            .filter(({ term }) => ON_TAG.has(term))
            .map(({ term, says }) => ({ term, says: [says] })),
          {
            term: 'Held',
            says: [
              `after ${at(tag.from_m)} ${tag.to_m === null ? 'and still going on' : `up to and including ${at(tag.to_m)}`} (by the press counter, at the place where samples are taken)`,
            ],
          },
          {
            term: 'In the roll',
            says: [
              outside === null
                ? 'Where in the roll is not known: take the whole roll.'
                : `${long(outside.near)} to ${long(outside.far)} from the outside of the rewound roll`,
            ],
          },
          { term: 'Labels', says: [`${wholeWords(tag.labels)}${tag.to_m === null ? ' so far' : ''}`] },
          { term: 'Why', says: whyHeld(tag.why, telling) },
          {
            term: 'Held by',
            says: [fullStop(`${view.board.operator ?? '________________'}, ${clock.full(view.made_at)}`)],
          },
        ],
      },
      { kind: 'heading', text: 'State' },
      ...(tag.at === null ? [] : [say(`Now ${tagWords(tag, telling)}.`)]),
      {
        kind: 'ticks',
        items: [
          'HOLD: kept apart, both ends of the stretch flagged in the roll',
          'RE-INSPECTED by ________________ on ________',
          'RELEASED  or  REWORKED  or  SCRAPPED (strike out what is not so)',
          'First signature ________________  second signature ________________',
        ],
      },
    ],
  };
}
