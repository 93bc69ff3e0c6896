/** A quantity that changes by steps at given counters, with a cursor so that walking along it is cheap. */
export type StepLine = {
  /** Its value at a counter (a step at exactly that counter is in), from 0 before the first step. */
  at(counterM: number): number;
  /** Steps must come in order of counter. */
  add(counterM: number, step: number): void;
};

export const stepLine = (): StepLine => {
  const at: number[] = [];
  const total: number[] = [];
  let i = -1;
  return {
    at: (c) => {
      if (at.length === 0) return 0;
      while (i + 1 < at.length && (at[i + 1] ?? 0) <= c) i++;
      while (i >= 0 && (at[i] ?? 0) > c) i--;
      return i < 0 ? 0 : (total[i] ?? 0);
    },
    add: (c, step) => {
      total.push((total[total.length - 1] ?? 0) + step);
      at.push(c);
    },
  };
};
