import { fail, ok, type Result } from '../result.js';
import { lengthUnitOf, NO, rollAsked } from './job-units.js';
import { type Answers, NOT_KNOWN, type Question, type Understood } from './question.js';
import { understandLength } from './understand-length.js';
import { understandMinutes } from './understand-minutes.js';
import { understandYesNo } from './understand-yes-no.js';

/** How long a finished roll is, and when a check is due. */
export const checkQuestions = (answers: Answers, tooth_mm: number): readonly Question[] => {
  const asked = rollAsked(answers, tooth_mm);
  const unit = lengthUnitOf(answers);
  const length = (text: string): Result<Understood> => {
    if (isNo(text)) return ok({ text: NO });
    const read = understandLength(text, asked);
    return read.ok ? ok({ text: read.value.text }) : read;
  };
  return [
    {
      key: 'job.roll',
      label: 'Finished roll',
      ask: `Length of a finished roll (${unit})?`,
      usual: NOT_KNOWN,
      more: 'From it the next check, and how soon a movement matters, are reckoned before the first roll is off.',
      understand: (text) =>
        new RegExp(`^${NOT_KNOWN}$`, 'i').test(text.trim()) ? ok({ text: NOT_KNOWN }) : length(text),
    },
    {
      key: 'job.every_roll',
      label: 'Check at every roll',
      ask: 'Is a check made at each finished roll?',
      usual: 'y',
      more: 'Only the outside of a wound roll can be sampled, so most shops check when a roll comes off.',
      understand: understandYesNo,
    },
    {
      key: 'job.every_m',
      label: 'Check by length',
      ask: `Also a check every so many ${unit}? (a number, or no)`,
      usual: NO,
      more: 'Counted from the check before.',
      understand: length,
    },
    {
      key: 'job.every_min',
      label: 'Check by time',
      ask: 'Also a check every so many minutes? (a number, or no)',
      usual: NO,
      more: 'Counted from the check before.',
      understand: (text) => {
        if (isNo(text))
          return answers['job.every_roll'] === 'n' && answers['job.every_m'] === NO
            ? fail('then no check is ever due: give minutes here, or go back with <')
            : ok({ text: NO });
        const minutes = understandMinutes(text);
        return minutes.ok ? ok({ text: `${minutes.value} min` }) : minutes;
      },
    },
  ];
};

const isNo = (text: string): boolean => /^(no?|none|never|-)$/i.test(text.trim());
