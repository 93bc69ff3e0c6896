import { HOLD_WORDS } from '../core/views/act-words.js';
import type { HandoverView } from '../core/views/handover-view.js';
import { wholeWords } from '../core/views/number-words.js';
import { type ReportDocument, type Section, say } from './document.js';
import { type HoldTag, holdTags } from './hold-tags.js';
import { jsonText } from './json-text.js';
import { pageFoot } from './page-foot.js';
import { renderMarkdown } from './render-markdown.js';
import { renderText } from './render-text.js';
import { noHoldWords, whyHeld } from './sections/holds.js';
import { shortenCells } from './shorten.js';
import { type Telling, tellingOf } from './telling.js';

/** Held product of a run, roll by roll, and how each stands. */
export const holdsText = (view: HandoverView, width = 78): string =>
  renderText(holdsDocument(view), Math.max(40, Math.floor(width)));
export const holdsMarkdown = (view: HandoverView): string => renderMarkdown(holdsDocument(view));

/** The same as one JSON document, a row a held roll. */
export const holdsJson = (view: HandoverView): string =>
  jsonText({
    format: 'holds/1',
    run: view.board.run,
    rolls: holdTags(view).map(
      ({ roll, from_m, to_m, from_outside_m, labels, why, state, at, by, by_second, note }) => ({
        roll,
        from_m,
        to_m,
        from_outside_m,
        labels,
        why: [...why],
        state,
        at,
        by,
        by_second,
        note,
      }),
    ),
  });

function holdsDocument(raw: HandoverView): ReportDocument {
  const telling = tellingOf(raw);
  const { view } = telling;
  const tags = holdTags(view);
  const none: Section = { id: 'holds', title: 'Product to hold', blocks: [say(noHoldWords(telling))] };
  return {
    title: `Held product: ${view.board.job} on ${view.board.press}`,
    subtitle: `Run ${view.board.run}, ${telling.clock.full(view.made_at)}, ${telling.clock.zone}.`,
    sections: [tags.length === 0 ? none : shortenCells(listed(tags, telling), WHY)],
    ...pageFoot(telling),
  };
}

/** Why a roll is held is told whole: its readings, what put it right, and the movement's sentence. */
const WHY = 600;

function listed(tags: readonly HoldTag[], telling: Telling): Section {
  return {
    id: 'holds',
    title: 'Product to hold',
    blocks: [
      {
        kind: 'table',
        caption: 'Held rolls; places by the press counter, where samples are taken',
        head: 0,
        columns: [
          { title: 'Roll' },
          { title: 'Held' },
          { title: 'Labels', numbers: true },
          { title: 'From the outside' },
          { title: 'State' },
          { title: 'Why' },
        ],
        rows: tags.map((tag) => row(tag, telling)),
      },
      say('A roll goes from hold to re-inspect, then is released (by two persons), reworked or scrapped.'),
    ],
  };
}

function row(tag: HoldTag, telling: Telling): readonly string[] {
  const { at, long, clock } = telling;
  const { roll, from_m, to_m, from_outside_m: outside, labels, why, state } = tag;
  const who = [tag.by, tag.by_second].filter((name) => name !== null);
  return [
    roll,
    `${at(from_m)} to ${to_m === null ? 'now' : at(to_m)}`,
    wholeWords(labels),
    outside === null ? 'not known' : `${long(outside.near)} to ${long(outside.far)}`,
    tag.at === null ? HOLD_WORDS[state] : [HOLD_WORDS[state], clock.time(tag.at), ...who].join(', '),
    whyHeld(why, telling).join(' '),
  ];
}
