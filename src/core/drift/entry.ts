/** One check in the window: where, what was read (aim, known corrections and accounted movements taken off), what it is blind to. */
export type Entry = {
  readonly at: number;
  readonly web_m: number;
  readonly value: readonly (number | null)[];
  /** Causes whose direction this check says nothing about, because an open movement of theirs is being followed. */
  readonly blind: readonly number[];
  /** Another label of the sample before. */
  readonly again?: boolean;
};

/** By cause: summed score and information of the checks that have left the window since the level was last set anew. */
export type Gone = { readonly score: readonly number[]; readonly information: readonly number[] };

/** A level not quite known: since entry `from` a cause's direction may be off by a constant of this variance. */
export type Offset = { readonly from: number; readonly variance: number };
