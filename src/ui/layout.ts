/** What each part of the board gets at a size of terminal. Fixed for the size, so that nothing jumps when something happens. */
export type Layout = {
  readonly columns: number;
  readonly rows: number;
  /** Width of everything but the side list. */
  readonly width: number;
  /** Width of the list of what moved at the right; 0 = none. */
  readonly side: number;
  readonly gutter: number;
  readonly strip: number;
  /** Rows of the across strip. */
  readonly across: number;
  readonly pairs: number;
  readonly rules: boolean;
  readonly instruction: number;
  readonly chart: number;
  readonly keys: number;
};

export const LEAST = { columns: 80, rows: 24 } as const;

/** null: below 80 by 24 there is no board, only a word about the size and the instruction. */
export function layout(columns: number, rows: number): Layout | null {
  if (columns < LEAST.columns || rows < LEAST.rows) return null;
  const side = columns >= 160 ? 54 : 0;
  const part = grown(rows < 30 ? SMALL : rows < 38 ? MIDDLE : rows < 52 ? ROOMY : LARGE, rows);
  return {
    columns,
    rows,
    side,
    width: columns - (side === 0 ? 0 : side + 3),
    gutter: 14,
    ...part,
    chart: Math.max(0, rows - used(part)),
  };
}

type Parts = Pick<Layout, 'strip' | 'across' | 'pairs' | 'rules' | 'instruction' | 'keys'>;

const SMALL: Parts = { strip: 5, across: 3, pairs: 0, rules: false, instruction: 5, keys: 1 };
const MIDDLE: Parts = { strip: 5, across: 3, pairs: 0, rules: true, instruction: 5, keys: 2 };
const ROOMY: Parts = { strip: 7, across: 5, pairs: 1, rules: true, instruction: 5, keys: 2 };
const LARGE: Parts = { strip: 11, across: 9, pairs: 1, rules: true, instruction: 8, keys: 2 };

const used = (part: Parts): number =>
  2 + 1 + part.strip + part.across + 5 + part.pairs + 1 + part.instruction + 1 + part.keys + (part.rules ? 2 : 0);

/** On a very high terminal the chart is high enough at some point; the strips take what is left over, by twos to keep their middle. */
function grown(part: Parts, rows: number): Parts {
  let { strip, across } = part;
  const over = (): boolean => rows - used({ ...part, strip, across }) > CHART_ENOUGH + 1;
  while (over() && strip < STRIP_ENOUGH) strip += 2;
  while (over() && across > 0 && across < STRIP_ENOUGH) across += 2;
  return { ...part, strip, across };
}

const CHART_ENOUGH = 20;
const STRIP_ENOUGH = 21;
