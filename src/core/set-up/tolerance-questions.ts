import { ok } from '../result.js';
import { MM_PER_INCH } from '../units.js';
import type { UsedStation } from './job-stations.js';
import { registerUnitOf } from './job-units.js';
import type { Answers, Question } from './question.js';
import { understandTolerance } from './understand-tolerance.js';

/** How far off is still good: for print, and for the die where it is read. Along has no usual answer: every shop has its own. */
export const toleranceQuestions = (answers: Answers, stations: readonly UsedStation[]): readonly Question[] => {
  const die = stations.some(({ kind, read }) => kind === 'die' && read !== 'never');
  const prints = stations.filter(({ kind, read }) => kind === 'print' && read !== 'never').length;
  return [
    ...(prints > 1 || !die ? [ask(answers, 'print', 'along'), ask(answers, 'print', 'across')] : []),
    ...(die ? [ask(answers, 'die', 'along'), ask(answers, 'die', 'across')] : []),
  ];
};

const ask = (answers: Answers, what: 'print' | 'die', axis: 'along' | 'across'): Question => {
  const unit = registerUnitOf(answers);
  const along = answers[`job.tolerance.${what}.along`];
  return {
    key: `job.tolerance.${what}.${axis}`,
    label: `Tolerance ${what} ${axis}`,
    ask: `Tolerance, ${what === 'print' ? 'print to print' : 'die to print'}, ${axis} ${axis === 'along' ? 'the web' : 'it'}, each way (${unit})?`,
    usual: axis === 'across' ? (along ?? null) : null,
    more: 'How far off, each way from where it should be, is still good for this customer. Beyond it product is held.',
    understand: (text) => {
      const tolerance = understandTolerance(text, unit);
      if (!tolerance.ok) return tolerance;
      const { mm } = tolerance.value;
      const said = `${Number(mm.toFixed(3))} mm (${(mm / MM_PER_INCH).toFixed(4)} in) each way`;
      return ok({ text: tolerance.value.text, said });
    },
  };
};
