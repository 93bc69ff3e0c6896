/**
 * Text that a spreadsheet would run as a formula gets an apostrophe before it; `fromHarmless` takes exactly that one off again, so any text comes
 * through whole. Numbers are never touched: −0.05 stays −0.05.
 */
export const harmless = (text: string): string => (FORMULA.test(text) ? `'${text}` : text);

export const fromHarmless = (cell: string): string =>
  cell.startsWith("'") && FORMULA.test(cell) ? cell.slice(1) : cell;

const FORMULA = /^'*[=+\-@\t\r]/;
