import type { Tally } from '../../practice/score.js';
import type { Truth } from '../../practice/truth.js';
import type { WasteKind } from '../../practice/waste.js';
import { type Block, list, type ReportDocument, say, stress, type Table } from '../../report/document.js';

/** The page a student gets: what really moved, what was done about it, what it cost. PRACTICE stands at its head. */
export const truthDocument = (truth: Truth, student: string, at: string): ReportDocument => ({
  title: `PRACTICE: ${student}, ${truth.exercise === 'free' || truth.exercise === 'file' ? truth.title : `exercise ${truth.exercise}, ${truth.title}`}`,
  subtitle: `Seed ${truth.seed}, ${at}. A simulated press: nothing here is production.`,
  sections: [
    {
      id: 'result',
      title: 'Result',
      blocks: [
        stress(
          `${truth.points} points of 100: ${truth.you.waste.metres} m of waste (${truth.you.waste.labels} labels).`,
        ),
        ...(truth.finished
          ? []
          : [say(`Ended at ${truth.ended_m} m; the rest of the stock is counted as the press stood then.`)]),
        resultTable(truth),
        say(
          'Best: pulls when a check is due, sees every sample as it truly is, cures at once just what moved. Advised: does what the program says, nothing else. Points: the share of the waste between never touched and best that you saved.',
        ),
        ...wasteWords(truth.you),
        ...(truth.refusals === 0 ? [] : [say(`Refused or not understood: ${truth.refusals}.`)]),
      ],
    },
    {
      id: 'moved',
      title: 'What really moved',
      blocks: truth.told.length === 0 ? [say('Nothing moved.')] : truth.told.flatMap(toldBlocks),
    },
    ...(truth.order.length === 0
      ? []
      : [{ id: 'order', title: 'The order of make-ready', blocks: [list(truth.order)] }]),
    ...(truth.named.length === 0 ? [] : [{ id: 'named', title: 'What you said moved', blocks: [list(truth.named)] }]),
    {
      id: 'safety',
      title: 'On a real press',
      blocks: [
        say(
          'Teeth, dies and plates: press stopped and made safe by the site rules, print thrown off before gears are parted, guards closed before it is inched. The press manual and site procedures govern.',
        ),
      ],
    },
  ],
});

const toldBlocks = (told: Truth['told'][number]): readonly Block[] => [
  { kind: 'heading', text: told.what },
  {
    kind: 'facts',
    facts: [
      { term: 'Seen', says: [told.seen] },
      { term: 'You', says: [told.you] },
      { term: 'Advised', says: [told.advised] },
      { term: 'Best', says: [told.best] },
    ],
  },
];

const resultTable = (truth: Truth): Table => ({
  kind: 'table',
  caption: 'Waste, touches and checks',
  head: 0,
  columns: [
    { title: 'who' },
    { title: 'waste m', numbers: true },
    { title: 'labels', numbers: true },
    { title: 'touches', numbers: true },
    { title: 'checks', numbers: true },
  ],
  rows: [
    line('you', truth.you),
    line('best', truth.best),
    line('advised', truth.advised),
    line('never touched', truth.untouched),
  ],
});

const line = (who: string, tally: Tally): readonly string[] => [
  who,
  String(tally.waste.metres),
  String(tally.waste.labels),
  String(tally.touches),
  String(tally.checks),
];

const wasteWords = (tally: Tally): readonly Block[] => {
  const kinds = Object.entries(tally.waste.by) as readonly (readonly [WasteKind, number])[];
  const found = kinds.filter(([, metres]) => metres > 0).map(([kind, metres]) => `${kind} ${metres} m`);
  return found.length === 0 ? [] : [say(`Your waste: ${found.join(', ')}.`)];
};
