import { listWords } from '../core/views/event-words.js';
import type { HandoverView } from '../core/views/handover-view.js';
import type { SignQuestion, SignSheet } from '../core/views/sign-sheet.js';
import { openHolds } from './open-holds.js';
import { stationToReread } from './station-to-reread.js';
import { rollsWords, tellingOf } from './telling.js';

/** The questions and the cross-check of one handover. */
export const signSheet = (view: HandoverView): SignSheet => ({
  questions: outgoingQuestions(view),
  ...crossCheck(view),
});

/**
 * What only a person knows, asked of the outgoing operator before signing: at most five, fewer when there is nothing to ask about. An empty
 * answer records nothing. Outgoing prepares, both exchange, incoming cross-checks (UK HSE, "Human factors: shift handover").
 */
export function outgoingQuestions(view: HandoverView): readonly SignQuestion[] {
  const telling = tellingOf(view);
  const open = telling.view.board.events.filter((event) => event.open);
  return [
    { about: 'Safety and maintenance', ask: 'Safety and maintenance: guards, stops, work begun and not finished?' },
    { about: 'Agreed for now', ask: 'What is only for now or not as usual, and who agreed to it?' },
    ...(open.length === 0
      ? []
      : [
          {
            about: 'Open movements',
            ask: `${open.length === 1 ? 'The open movement' : `The ${open.length} open movements`}: what have you tried, what do you think it is?`,
          },
        ]),
    ...(openHolds(telling.view).length === 0
      ? []
      : [
          {
            about: 'Held product',
            ask: `Held product (${rollsWords([...new Set(openHolds(telling.view).flatMap((hold) => hold.rolls))])}): where does it stand, who knows of it?`,
          },
        ]),
    { about: 'Watch first', ask: 'What should the next operator watch first?' },
  ];
}

/** What the incoming operator reads back aloud and ticks, and the station the program wants read again. */
export function crossCheck(view: HandoverView): Pick<SignSheet, 'points' | 'reread'> {
  const telling = tellingOf(view);
  const { board, abnormal } = telling.view;
  const holds = openHolds(telling.view);
  const open = board.events.filter((event) => event.open).map((event) => event.sentence);
  const reread = board.phase === 'ended' ? null : stationToReread(telling.view);
  return {
    points: [
      ...(open.length === 0 ? ['No movement is open.'] : open),
      ...(holds.length === 0
        ? ['No product is on hold.']
        : [`On hold: ${listWords(holds.map((hold) => rollsWords(hold.rolls)))}; seen, tagged and apart.`]),
      ...(abnormal.length === 0 ? ['Nothing is abnormal or temporary.'] : abnormal),
    ],
    reread: reread === null ? null : { ...reread, label: telling.label(reread.station) },
  };
}
