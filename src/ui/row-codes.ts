/**
 * A row of the screen as one character. The terminal library takes every character of a frame apart anew, 2,000 to 5,000 of them, to find
 * out that most rows are as they were. Handed one private-use character a row instead, it compares rows as cheaply as it would a clock;
 * on its way to the terminal the character becomes the row again. Rows never hold such characters themselves (see `paint`).
 */
export type RowCodes = {
  readonly encode: (rows: readonly string[]) => readonly string[];
  readonly decode: (text: string) => string;
};

/** Private use area of the basic plane: U+E000 on. More codes than rows on any screen, so that none is given anew while it is on it. */
const FIRST = 0xe000;
const CODES = 2048;
const CODE = /[\uE000-\uE7FF]/g;

export function createRowCodes(): RowCodes {
  const codes = new Map<string, string>();
  const rowsOf: (string | undefined)[] = new Array<string | undefined>(CODES).fill(undefined);
  let next = 0;
  let showing: ReadonlySet<string> = new Set();
  const codeOf = (row: string, taken: ReadonlySet<string>): string => {
    const known = codes.get(row);
    if (known !== undefined) return known;
    // A code that stands on the screen now must not come to mean something else there.
    while (isTaken(next, showing) || isTaken(next, taken)) next = (next + 1) % CODES;
    const code = String.fromCharCode(FIRST + next);
    const old = rowsOf[next];
    if (old !== undefined) codes.delete(old);
    rowsOf[next] = row;
    codes.set(row, code);
    next = (next + 1) % CODES;
    return code;
  };
  return {
    encode: (rows) => {
      const taken = new Set<string>();
      const coded = rows.map((row) => {
        if (row === '') return '';
        const code = codeOf(row, taken);
        taken.add(code);
        return code;
      });
      showing = taken;
      return coded;
    },
    decode: (text) => text.replace(CODE, (code) => rowsOf[code.charCodeAt(0) - FIRST] ?? ''),
  };
}

const isTaken = (index: number, taken: ReadonlySet<string>): boolean => taken.has(String.fromCharCode(FIRST + index));
