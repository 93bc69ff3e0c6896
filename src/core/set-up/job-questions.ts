import { defaultReference } from '../default-reference.js';
import type { Press } from '../press.js';
import { fail, ok } from '../result.js';
import { checkQuestions } from './check-questions.js';
import { jobStations, NO_NAME, NOT_USED, type UsedStation } from './job-stations.js';
import type { Answers, Question } from './question.js';
import { subsetName } from './subset-name.js';
import { toleranceQuestions } from './tolerance-questions.js';
import { understandChoice } from './understand-choice.js';
import { understandName } from './understand-name.js';
import { understandSubset } from './understand-subset.js';
import { understandWhole } from './understand-whole.js';
import { understandYesNo } from './understand-yes-no.js';

/** What only the operator knows of a job, in the order it is asked, as far as it follows from what is answered. */
export const jobQuestions = (answers: Answers, press: Press): readonly Question[] => {
  const questions: Question[] = [NAME, ...press.stations.map((station) => used(answers, press, station))];
  const stations = jobStations(answers, press);
  if (stations === null) return questions;
  questions.push(measured(stations));
  for (const { id, kind, read } of stations)
    if (read !== 'measure' && answers['job.measured'] !== undefined) questions.push(looked(stations, id, kind));
  questions.push(REGISTER, lengthUnit(answers), ...toleranceQuestions(answers, stations));
  questions.push(teeth(press), labels('across', 'side by side across the web'), labels('around', 'around the repeat'));
  questions.push(...checkQuestions(answers, press.tooth_mm));
  const reference = referenceQuestion(press, stations);
  return reference === null ? questions : [...questions, reference];
};

const NAME: Question = {
  key: 'job.name',
  label: 'Job',
  ask: 'What is the job called?',
  usual: null,
  more: 'The name your shop uses. How long its plates run clean is kept under this name from run to run.',
  understand: understandName,
};

const used = (answers: Answers, press: Press, { id, kind }: Press['stations'][number]): Question =>
  kind === 'die'
    ? {
        key: `job.die.${id}`,
        label: 'Die used',
        ask: `Is the die${press.stations.filter((s) => s.kind === 'die').length > 1 ? ` ${id}` : ''} used on this job?`,
        usual: 'y',
        more: 'n where this job is cut elsewhere, or the die stands open.',
        understand: (text) => enough(answers, press, `job.die.${id}`, understandYesNo(text)),
      }
    : {
        key: `job.ink.${id}`,
        label: `Ink on ${id}`,
        ask: `Ink on ${id}? (- = station not used)`,
        usual: NO_NAME,
        more: 'What the operator calls it: opaque white, plum, varnish. It stands beside the station wherever the station is named.',
        understand: (text) => {
          if (/^(-|not used)$/i.test(text.trim()))
            return enough(
              answers,
              press,
              `job.ink.${id}`,
              ok({ text: NOT_USED, said: `${id} is not used on this job` }),
            );
          return understandName(text);
        },
      };

/** At the last station that leaves fewer than two in use, or no print, it is said. */
const enough = <T extends ReturnType<typeof understandYesNo>>(
  answers: Answers,
  press: Press,
  key: string,
  given: T,
): T | ReturnType<typeof fail> => {
  if (!given.ok || given.value.text === 'y') return given;
  const others = press.stations.filter((s) => (s.kind === 'die' ? `job.die.${s.id}` : `job.ink.${s.id}`) !== key);
  const left = others.filter((s) => {
    const answer = answers[s.kind === 'die' ? `job.die.${s.id}` : `job.ink.${s.id}`];
    return answer === undefined || (answer !== NOT_USED && answer !== 'n');
  });
  return left.length >= 2 && left.some((s) => s.kind === 'print')
    ? given
    : fail(
        'then fewer than two stations are left (or no print), and register is kept between two: name its ink, or go back with <',
      );
};

const measured = (stations: readonly UsedStation[]): Question => {
  const ids = stations.map(({ id }) => id);
  return {
    key: 'job.measured',
    label: 'Marks to measure',
    ask: `Which of ${ids.join(' ')} have a mark that can be measured?`,
    usual: 'all',
    more: 'all, all but 6, or the stations by name. A varnish or a flood has mostly none. The die is measured by its margins to the print.',
    understand: (text) => {
      const chosen = understandSubset(text, ids);
      if (!chosen.ok) return chosen;
      const prints = stations.filter(({ id, kind }) => kind === 'print' && chosen.value.includes(id));
      if (prints.length === 0)
        return fail('at least one print station must have a mark that can be measured: the others are read against it');
      return ok({ text: subsetName(chosen.value, ids), said: `measured: ${chosen.value.join(', ')}` });
    },
  };
};

const looked = (stations: readonly UsedStation[], id: string, kind: UsedStation['kind']): Question => ({
  key: `job.look.${id}`,
  label: `${kind === 'die' ? 'Die' : id} is read by`,
  ask: `${kind === 'die' ? 'The die' : id}: can it be looked at (in or off, by eye), or never? look or never`,
  usual: 'look',
  more: 'look: seen under the loupe or strobe to be in or off, without a number. never: there is nothing to see.',
  understand: (text) => {
    const answer = understandChoice(text, ['look', 'never']);
    const readable = stations.filter((s) => s.id !== id && s.read !== 'never').length;
    return answer.ok && answer.value.text === 'never' && readable < 2
      ? fail('then only one station could be read, and register is read between two: look, or go back with <')
      : answer;
  },
});

const REGISTER: Question = {
  key: 'job.register',
  label: 'Register in',
  ask: 'Register is read in mm, in, thou (0.001 in) or 64ths?',
  usual: 'mm',
  more: 'The unit of your loupe. Readings are keyed and shown in it.',
  understand: (text) =>
    understandChoice(
      text
        .replace(/^(mils?|thousandths)$/i, 'thou')
        .replace(/^inch(es)?$/i, 'in')
        .replace(/^64(th)?$/i, '64ths'),
      ['mm', 'in', 'thou', '64ths'],
    ),
};

const lengthUnit = (answers: Answers): Question => ({
  key: 'job.length',
  label: 'Web length in',
  ask: 'Web length is counted in m, ft or repeats?',
  usual: (answers['job.register'] ?? 'mm') === 'mm' ? 'm' : 'ft',
  more: 'The unit of the counter on the press.',
  understand: (text) =>
    understandChoice(text.replace(/^feet$/i, 'ft').replace(/^met.*$/i, 'm'), ['m', 'ft', 'repeats']),
});

const teeth = (press: Press): Question => ({
  key: 'job.teeth',
  label: 'Repeat teeth',
  ask: 'Teeth of the printing repeat (plate cylinder gear)?',
  usual: null,
  more: 'Stamped on the gear of the plate cylinder. One tooth more makes the repeat longer by one tooth.',
  understand: (text) => {
    const count = understandWhole(text.replace(/\s*(teeth|t)$/i, ''), 4, 2000, 'teeth');
    if (!count.ok) return count;
    const mm = count.value * press.tooth_mm;
    return ok({ text: String(count.value), said: `repeat of ${mm.toFixed(2)} mm (${(mm / 25.4).toFixed(3)} in)` });
  },
});

const labels = (way: 'across' | 'around', words: string): Question => ({
  key: `job.labels.${way}`,
  label: `Labels ${way}`,
  ask: `Labels ${words}?`,
  usual: '1',
  more: 'So that product to hold is told in labels as well as in metres and rolls.',
  understand: (text) => {
    const count = understandWhole(text, 1, 1000, 'labels');
    return count.ok ? ok({ text: String(count.value) }) : count;
  },
});

const referenceQuestion = (press: Press, stations: readonly UsedStation[]): Question | null => {
  if (stations.some(({ read }) => read === null)) return null;
  const asJob = stations.map(({ id, ink, read }) => ({
    id,
    ink,
    read: read ?? 'never',
    aim_mm: { along: 0, across: 0 },
  }));
  const usual = defaultReference(press, asJob);
  const possible = stations.filter(({ kind, read }) => kind === 'print' && read === 'measure').map(({ id }) => id);
  const die = stations.some(({ kind }) => kind === 'die');
  return {
    key: 'job.reference',
    label: 'Reference',
    ask: 'Which print station are the others read against?',
    usual,
    more: `Proposed is the print station ${die ? 'farthest from the die' : 'that comes first'} among those with a mark to measure. Allowed: ${possible.join(', ')}.`,
    understand: (text) => {
      const typed = text.trim();
      const station = stations.find(({ id }) => id.toLowerCase() === typed.toLowerCase());
      if (station?.kind === 'die') return fail('the die cannot be the reference: the print is; choose a print station');
      if (station !== undefined && station.read !== 'measure')
        return fail(`${station.id} has no mark that is measured; choose one of ${possible.join(', ')}`);
      return understandChoice(typed, possible);
    },
  };
};
