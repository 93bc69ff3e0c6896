import { GEAR_NAMES, toothMm } from '../gear.js';
import { fail, ok } from '../result.js';
import { knobQuestions } from './knob-questions.js';
import type { Answers, Question } from './question.js';
import { stationNames } from './station-names.js';
import { understandChoice } from './understand-choice.js';
import { understandLength } from './understand-length.js';
import { understandName } from './understand-name.js';
import { understandStations } from './understand-stations.js';
import { understandYesNo } from './understand-yes-no.js';
import { GAP_ASKED, understandSpacing, webGaps } from './web-gaps.js';
import { FIRST, webOrder } from './web-order.js';

/** What only the operator knows of a press, in the order it is asked, as far as it follows from what is answered. What nobody knows of the knobs is found out at the press. */
export const pressQuestions = (answers: Answers, dieId: string | null): readonly Question[] => {
  const prints = understandStations(answers['press.prints'] ?? '');
  const questions: Question[] = [NAME, GEAR, PRINTS];
  if (answers['press.prints'] === undefined || !prints.ok) return questions;
  questions.push(die(prints.value.length));
  if (answers['press.die'] === undefined) return questions;
  if (answers['press.die'] === 'y') questions.push(dieAfter(prints.value), DIE_FIXED);
  const order = webOrder(answers, dieId);
  if (order === null) return questions;
  if (order.prints.length > 1 && order.ids.length > 2) questions.push(spacing(order));
  for (const gap of webGaps(answers, order))
    if (gap.m === null || answers[gap.key] !== undefined) questions.push(distance(gap, order.die));
  questions.push(sample(order.ids.at(-1) ?? '', order.die), ...knobQuestions);
  return questions;
};

const NAME: Question = {
  key: 'press.name',
  label: 'Press',
  ask: 'What is the press called?',
  usual: null,
  more: 'The name your shop uses. What is learned of its knobs is kept under this name from run to run.',
  understand: understandName,
};

const GEAR: Question = {
  key: 'press.gear',
  label: 'Gear',
  ask: 'Gear system of the press, by name?',
  usual: null,
  more: `It says how far the print moves for one gear tooth: ${GEAR_NAMES}.`,
  understand: (text) => {
    const name = text.trim().replace(/\s+/g, ' ');
    const tooth = toothMm(name);
    if (!tooth.ok) return tooth;
    const mm = tooth.value;
    return ok({
      text: name,
      said: `one tooth moves the print ${Number(mm.toPrecision(6))} mm (${(mm / 25.4).toFixed(4)} in)`,
    });
  },
};

const PRINTS: Question = {
  key: 'press.prints',
  label: 'Print stations',
  ask: 'Print stations in web order: how many, or their names?',
  usual: null,
  more: 'From the unwind to the rewind. 6 names them 1 to 6; or type the names your shop uses, as W 1 2 3 4 V. The die is asked next.',
  understand: (text) => {
    const names = understandStations(text);
    if (!names.ok) return names;
    const { length } = names.value;
    if (length === 0) return fail('at least one print station is needed');
    return ok({
      text: stationNames(names.value),
      said: `${length} print station${length === 1 ? '' : 's'}, from the unwind on: ${names.value.join(', ')}`,
    });
  },
};

const die = (prints: number): Question => ({
  key: 'press.die',
  label: 'Die',
  ask: 'Is there a die on the press?',
  usual: 'y',
  more: 'Whatever cuts in register with the print. The print is read against the cut, and the cut against the print.',
  understand: (text) => {
    const answer = understandYesNo(text);
    return answer.ok && answer.value.text === 'n' && prints === 1
      ? fail('register is kept between two stations: with one print station there must be a die')
      : answer;
  },
});

const dieAfter = (prints: readonly string[]): Question => ({
  key: 'press.die.after',
  label: 'Die stands after',
  ask: 'After which print station does the die stand?',
  usual: prints.at(-1) ?? FIRST,
  more: `One of ${prints.join(', ')}; or "${FIRST}" where it stands before them all.`,
  understand: (text) => understandChoice(text, prints.includes(FIRST) ? prints : [...prints, FIRST]),
});

const DIE_FIXED: Question = {
  key: 'press.die.fixed',
  label: 'Die cannot move',
  ask: 'Which way can the die NOT be moved: along, across, both or neither?',
  usual: 'across',
  more: 'Along is with the web, across is side to side. Where the die cannot be moved the print is brought to it.',
  understand: (text) => understandChoice(text.replace(/^none$/i, 'neither'), ['along', 'across', 'both', 'neither']),
};

type Order = NonNullable<ReturnType<typeof webOrder>>;

const spacing = (order: Order): Question => ({
  key: 'press.spacing',
  label: 'From station to station',
  ask: 'Metres of web from one station to the next: one for all, or each?',
  usual: null,
  more: `Along the web path, not through the air. One number for all (1.2, or 4 ft), all ${order.ids.length - 1} in one line, or the word each to be asked one by one. From it follows what a tension change does, and when a sample shows a move.`,
  understand: (text) => understandSpacing(text, order),
});

const distance = (
  gap: { readonly from: string; readonly to: string; readonly key: string; readonly usual: string | null },
  dieId: string | null,
): Question => ({
  key: gap.key,
  label: `From ${called(gap.from, dieId)} to ${called(gap.to, dieId)}`,
  ask: `Metres of web from ${called(gap.from, dieId)} to ${called(gap.to, dieId)}?`,
  usual: gap.usual,
  more: 'Along the web path, from nip to nip. 1.2, or 4 ft.',
  understand: (text) => {
    const length = understandLength(text, GAP_ASKED);
    return length.ok ? ok({ text: length.value.text }) : length;
  },
});

const sample = (last: string, dieId: string | null): Question => ({
  key: 'press.sample',
  label: 'Samples pulled after',
  ask: `Metres of web from ${called(last, dieId)} to where samples are pulled?`,
  usual: null,
  more: 'Mostly at the rewind. From it follows how far the web must run after a move until a sample shows it.',
  understand: (text) => {
    const length = understandLength(text, { ...GAP_ASKED, low_m: 0, high_m: 200 });
    return length.ok ? ok({ text: length.value.text }) : length;
  },
});

const called = (id: string, dieId: string | null): string => (id === dieId ? 'the die' : id);
