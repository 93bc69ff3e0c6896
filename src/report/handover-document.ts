import { listWords } from '../core/views/event-words.js';
import type { HandoverView } from '../core/views/handover-view.js';
import { type ReportDocument, type Section, say } from './document.js';
import { pageFoot } from './page-foot.js';
import { abnormal } from './sections/abnormal.js';
import { corrections } from './sections/corrections.js';
import { holds } from './sections/holds.js';
import { logLines } from './sections/log-lines.js';
import { movements } from './sections/movements.js';
import { nextCheck } from './sections/next-check.js';
import { plates } from './sections/plates.js';
import { safety } from './sections/safety.js';
import { signOff } from './sections/sign-off.js';
import { stateNow } from './sections/state-now.js';
import { thirtySeconds } from './sections/thirty-seconds.js';
import { shorten, shortenCells } from './shorten.js';
import { type Telling, tellingOf } from './telling.js';

/** The record that one operator gives the next, in words, before it has a format. */
export function handoverDocument(view: HandoverView): ReportDocument {
  const telling = tellingOf(view);
  const sections = [
    thirtySeconds,
    stateNow,
    abnormal,
    holds,
    movements,
    corrections,
    plates,
    nextCheck,
    safety,
    logLines,
    signOff,
  ];
  return {
    title: shorten(`Handover: ${telling.view.board.job} on ${telling.view.board.press}`, 160),
    subtitle: subtitle(telling),
    sections: withoutEmpty(sections.map((section) => shortenCells(section(telling)))),
    ...pageFoot(telling),
  };
}

/** Sections with nothing in them cost the reader a line together, after the first thirty seconds, not four lines each. */
function withoutEmpty(sections: readonly Section[]): readonly Section[] {
  const empty = sections.flatMap(({ nothing }) => (nothing === undefined ? [] : [nothing]));
  const [first, ...rest] = sections.filter(({ nothing }) => nothing === undefined);
  if (first === undefined || empty.length === 0) return sections;
  const line = say(`Nothing is recorded of: ${listWords(empty)}.`);
  return [{ ...first, blocks: [...first.blocks, line] }, ...rest];
}

function subtitle({ view, clock, at }: Telling): string {
  const from = view.since_web_m === null ? '' : ` (from ${at(view.since_web_m)})`;
  const changed = clock.clocksChanged ? ' The clocks were changed in this time, so each time says which.' : '';
  return `Run ${view.board.run}, ${clock.full(view.since_at)}${from} to ${clock.full(view.ended_at ?? view.made_at)}. ${view.ended_at === undefined ? '' : `Printed ${clock.full(view.made_at)}. `}Times are ${clock.zone}.${changed}`;
}
