import type { Answers, Question } from './question.js';

/**
 * The answers that still stand when one was changed: each is understood anew, in the order of the questions; what is no longer asked, or no longer makes
 * sense, is left out and so will be asked.
 */
export const settleAnswers = (questionsOf: (answers: Answers) => readonly Question[], wanted: Answers): Answers => {
  let kept: Answers = {};
  const refused = new Set<string>();
  for (;;) {
    const next = questionsOf(kept).find(
      ({ key }) => kept[key] === undefined && wanted[key] !== undefined && !refused.has(key),
    );
    if (next === undefined) return kept;
    const read = next.understand(wanted[next.key] ?? '');
    if (read.ok) kept = { ...kept, [next.key]: read.value.text };
    else refused.add(next.key);
  }
};
