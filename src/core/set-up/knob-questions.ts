import type { Axis } from '../axis.js';
import type { PressFile } from '../press-schema.js';
import { type Answers, NOT_KNOWN, type Question } from './question.js';
import { understandChoice } from './understand-choice.js';
import { divisionMm, understandDivision } from './understand-division.js';

const RUNNING: Question = {
  key: 'press.running',
  label: 'Register turned running',
  ask: 'Knobs turned while running: both, along, across or neither?',
  usual: NOT_KNOWN,
  more: 'Along is with the web, across is side to side. The board then says rightly "running" or "at a stop". By the press manual and the rules of the site.',
  understand: (text) => understandChoice(text, ['both', 'along', 'across', 'neither', NOT_KNOWN]),
};

const division = (axis: Axis): Question => ({
  key: `press.division.${axis}`,
  label: `One division ${axis}`,
  ask: `How far does one division of a knob move the print ${axis}?`,
  usual: NOT_KNOWN,
  more: '0.02 mm, or 1 thou. With it the board speaks in divisions. Not known is fine: what a knob gives is learned from the first turns that are big enough to tell.',
  understand: understandDivision,
});

/** What is asked of the register knobs; all of it may be not known. */
export const knobQuestions: readonly Question[] = [RUNNING, division('along'), division('across')];

/** What the answers say of all knobs, over what an earlier file said; undefined = nothing. */
export const knobsOf = (answers: Answers, before: PressFile['knobs']): PressFile['knobs'] => {
  const running = answers['press.running'] ?? NOT_KNOWN;
  const of = (axis: Axis): object | undefined => {
    const size = divisionMm(answers[`press.division.${axis}`] ?? '');
    const made = {
      ...before?.[axis],
      ...(size === null ? {} : { division_mm: size }),
      ...(running === NOT_KNOWN ? {} : { while_running: running === 'both' || running === axis }),
    };
    return Object.keys(made).length === 0 ? undefined : made;
  };
  const [along, across] = [of('along'), of('across')];
  if (along === undefined && across === undefined) return before;
  return { ...(along === undefined ? {} : { along }), ...(across === undefined ? {} : { across }) };
};

/** The answers that an earlier file gives. */
export const knobAnswers = ({ knobs }: PressFile): Answers => {
  const [along, across] = [knobs?.along?.while_running, knobs?.across?.while_running];
  const running =
    along === undefined || across === undefined
      ? NOT_KNOWN
      : along && across
        ? 'both'
        : along
          ? 'along'
          : across
            ? 'across'
            : 'neither';
  const size = (axis: Axis): string => {
    const mm = knobs?.[axis]?.division_mm;
    return mm === undefined ? NOT_KNOWN : `${mm} mm`;
  };
  return {
    'press.running': running,
    'press.division.along': size('along'),
    'press.division.across': size('across'),
  };
};
