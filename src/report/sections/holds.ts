import { capital } from '../../core/capital.js';
import { HOLD_WORDS } from '../../core/views/act-words.js';
import type { HeldRoll, HoldSpan } from '../../core/views/handover-view.js';
import { isOpenHold } from '../../core/views/hold-views.js';
import { wholeWords } from '../../core/views/number-words.js';
import { type Block, type Section, say } from '../document.js';
import { rollsWords, type Telling } from '../telling.js';
import { productBlocks } from './traced.js';

/** Section 3: product to keep back, by finished roll, metres and labels, with what to do; or that there is none. */
export function holds(telling: Telling): Section {
  const { holds: spans } = telling.view;
  return {
    id: 'holds',
    title: '3 Product to hold',
    ...(spans.length === 0 && telling.view.checks.made > 0 && productBlocks(telling).length === 0
      ? { nothing: 'product to hold' }
      : {}),
    blocks: [
      ...productBlocks(telling),
      ...(spans.length === 0
        ? [say(noHoldWords(telling))]
        : [...spans.toReversed().flatMap((span) => spanBlocks(span, telling)), say(doWords(spans)), say(END_WORDS)]),
    ],
  };
}

/** "rolls 8 and 9, after 16 900 m up to 21 450 m, about 179 134 labels". */
export function holdLine(span: HoldSpan, telling: Telling): string {
  const to = span.to_m === null ? 'and still going on' : `up to and including ${telling.at(span.to_m)}`;
  const labels =
    span.labels === null ? '' : `, ${wholeWords(span.labels)} labels${span.to_m === null ? ' so far' : ''}`;
  const settled = span.parts.filter(({ state }) => state !== 'hold' && state !== 're-inspect');
  const done = settled.length === 0 ? '' : `; ${settled.map(({ roll, state }) => `roll ${roll} ${state}`).join(', ')}`;
  return `${rollsWords(span.rolls)}, after ${telling.at(span.from_m)} ${to}${labels}${done}.`;
}

/** "No product to hold", unless nothing was looked at: then that is said instead of a promise. */
export const noHoldWords = (telling: Telling): string =>
  telling.view.holds.length > 0
    ? 'No product on hold any more: all of it was released, reworked or scrapped.'
    : telling.view.checks.made === 0
      ? 'No product was put on hold, but no check was made: what was produced has not been looked at.'
      : 'No product to hold.';

const END_WORDS =
  'From the last good check (not held) to the first good one after it was put right (held), by the press counter at the sample place.';

/** Why something is held, a movement by its sentence; also for the tag on the roll. */
export function whyHeld(why: readonly string[], { view }: Telling): readonly string[] {
  if (why.length === 0) return ['not recorded'];
  return why.map((reason) => {
    const id = /^movement (\d+)$/.exec(reason)?.[1];
    // A movement of an earlier shift has no story here, but its product may still be on hold.
    const event =
      view.stories.find((story) => id !== undefined && story.event.id === Number(id))?.event ??
      view.board.events.find((one) => id !== undefined && one.id === Number(id));
    return event === undefined ? reason : `${reason}: ${event.sentence}`;
  });
}

function spanBlocks(span: HoldSpan, telling: Telling): readonly Block[] {
  const line = holdLine(span, telling);
  return [
    { kind: 'heading', text: capital(line) },
    {
      kind: 'facts',
      facts: [
        { term: 'Why', says: whyHeld(span.why, telling) },
        ...(span.parts.every(({ at }) => at === null)
          ? []
          : [{ term: 'State', says: span.parts.map((part) => tagWords(part, telling)) }]),
      ],
    },
  ];
}

/** "roll 8: released, 14:05, MK, second JB". */
export const tagWords = ({ roll, state, at, by, by_second, note }: HeldRoll, { clock }: Telling): string =>
  [
    `roll ${roll}: ${HOLD_WORDS[state]}`,
    ...(at === null ? [] : [clock.time(at)]),
    ...(by === null ? [] : [by]),
    ...(by_second === null ? [] : [`second ${by_second}`]),
    ...(note === null ? [] : [note]),
  ].join(', ');

const doWords = (spans: readonly HoldSpan[]): string =>
  !spans.some(isOpenHold)
    ? 'Nothing is to be done: all of it was released, reworked or scrapped.'
    : spans.some(({ to_m }) => to_m === null)
      ? 'Keep these rolls and everything made from here on apart and tagged, until a check is good again. Then re-inspect; whoever answers for quality releases, reworks or scraps.'
      : 'Keep these rolls apart and tagged, flag both ends of the span in the roll. Re-inspect; whoever answers for quality releases, reworks or scraps.';
