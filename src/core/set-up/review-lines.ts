import type { Answers, Question } from './question.js';

/** All answers with their numbers, in two columns of a screen 80 wide, read down. */
export const reviewLines = (questions: readonly Question[], answers: Answers): readonly string[] => {
  const items = questions.map(({ key, label }, index) => {
    const text = `${String(index + 1).padStart(2)} ${label}: ${SAID[answers[key] ?? ''] ?? answers[key] ?? ''}`;
    return text.length <= WIDE ? text : `${text.slice(0, WIDE - 3)}...`;
  });
  const rows = Math.ceil(items.length / 2);
  return Array.from({ length: rows }, (_, row) =>
    `${(items[row] ?? '').padEnd(WIDE + 2)}${items[row + rows] ?? ''}`.trimEnd(),
  );
};

const WIDE = 38;
const SAID: Readonly<Record<string, string>> = { y: 'yes', n: 'no' };
