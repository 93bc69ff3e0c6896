import type { SignedPoint } from '../../core/record.js';
import { listWords } from '../../core/views/event-words.js';
import { type Block, list, type Section, say } from '../document.js';
import { openHolds } from '../open-holds.js';
import { stationToReread } from '../station-to-reread.js';
import { fullStop, type Telling } from '../telling.js';

/** Section 10: who hands over to whom, and what the incoming operator reads back and re-reads before signing. */
export function signOff(telling: Telling): Section {
  const { view } = telling;
  const who =
    view.operators.length === 0
      ? 'No operator is named in the log.'
      : fullStop(`On the press in this time: ${listWords(view.operators)}`);
  return {
    id: 'sign-off',
    title: '10 Sign-off',
    blocks: [say(who), ...signed(telling), { kind: 'ticks', items: ticks(telling) }, ...lines(telling)],
  };
}

/** What the incoming operator ticks. */
export function ticks(telling: Telling): readonly string[] {
  const { view } = telling;
  const holds = openHolds(view);
  const open = view.board.events.filter((event) => event.open).length;
  const reread = stationToReread(view);
  const quiet = open === 0 && holds.length === 0 && view.abnormal.length === 0;
  const points = [
    open === 0
      ? 'Read back: no movement is open.'
      : `Read back: ${open === 1 ? 'the open movement' : `the ${open} open movements`}.`,
    holds.length === 0
      ? 'Read back: no product on hold.'
      : `Held rolls seen, tagged and apart (${holds.length === 1 ? 'one hold' : `${holds.length} holds`}).`,
    view.abnormal.length === 0
      ? 'Nothing abnormal or temporary.'
      : 'What is abnormal or temporary is understood and agreed.',
  ];
  return [
    ...(quiet ? ['Read back: no movement is open, no product on hold, nothing abnormal or temporary.'] : points),
    ...(view.board.phase === 'ended'
      ? []
      : [
          reread === null
            ? 'One station re-read: ________ along ________ across ________'
            : `Re-read ${telling.label(reread.station)} (${reread.why}): along ________ across ________`,
        ]),
  ];
}

function signed(telling: Telling): readonly Block[] {
  const { view, clock } = telling;
  const sign = view.sign_off ?? null;
  const earlier = earlierPages(telling);
  if (sign === null) return earlier;
  const incoming =
    sign.incoming === null ? 'Nobody took over: there was no incoming operator.' : `${sign.incoming} took over.`;
  return [
    say(
      `${sign.outgoing} handed over at ${clock.time(sign.at)}. ${incoming}${sign.note === null ? '' : ` ${fullStop(`Note: ${sign.note}`)}`}`,
    ),
    ...(sign.points === undefined ? [] : [list(sign.points.map(pointWords))]),
    ...earlier,
  ];
}

const pointWords = ({ text, read_back }: SignedPoint): string =>
  `${read_back ? 'Read back' : 'NOT read back'}: ${text}`;

/** Pages of this run that were signed before, so that two printed pages prove each other. */
const earlierPages = ({ view, clock }: Telling): readonly Block[] => {
  const pages = (view.signed ?? []).flatMap(({ number, at, page }) =>
    page === undefined
      ? []
      : [`Handover ${number}, ${clock.time(at)}: read from ${page.entries} entries, chain ${page.head}`],
  );
  return pages.length === 0 ? [] : [list(pages)];
};

const lines = ({ view }: Telling): readonly Block[] => [
  {
    kind: 'facts',
    facts: [
      { term: 'Outgoing', says: [`${view.board.operator ?? ''} ________________  time ________`.trim()] },
      { term: 'Incoming', says: ['________________  time ________'] },
    ],
  },
];
