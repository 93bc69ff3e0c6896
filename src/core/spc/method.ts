/**
 * The contract of every streaming method in this room. `initial` makes the starting state from plain settings; `step`
 * takes one reading and gives the next state, the point as it is drawn, and a signal or null. State is plain JSON: it
 * can be written down mid-stream and picked up again. A reading that is not a finite number is a bug of the caller
 * (readings are checked where they come in) and throws.
 */
export type Method<Config, State, Point> = {
  readonly initial: (config: Config) => State;
  readonly step: (config: Config, state: State, value: number) => Step<State, Point>;
};

export type Step<State, Point> = {
  readonly state: State;
  readonly point: Point;
  readonly signal: Signal | null;
};

/** What a method found at this reading, in the words of the charts. */
export type Signal = { readonly words: readonly SignalWord[] };

export type SignalWord =
  | 'beyond-limits'
  | 'two-of-three'
  | 'four-of-five'
  | 'eight-one-side'
  | 'nine-one-side'
  | 'six-trend'
  | 'fourteen-alternating'
  | 'fifteen-near-centre'
  | 'eight-off-centre'
  | 'changed';

/** One signal, or null when there is nothing to say. */
export const signalOf = (words: readonly SignalWord[]): Signal | null => (words.length === 0 ? null : { words });

/** Folds a method over readings: the batch form of every streaming method, so batch and stream cannot differ. */
export const runMethod = <Config, State, Point>(
  method: Method<Config, State, Point>,
  config: Config,
  values: readonly number[],
): { readonly state: State; readonly steps: readonly Step<State, Point>[] } => {
  let state = method.initial(config);
  const steps: Step<State, Point>[] = [];
  for (const value of values) {
    const next = method.step(config, state, value);
    state = next.state;
    steps.push(next);
  }
  return { state, steps };
};
