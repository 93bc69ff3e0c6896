/** A seeded source of random numbers: uniform on [0, 1) (mulberry32, from memory) and standard normal (Box–Muller). */
export type Seeded = { readonly uniform: () => number; readonly normal: () => number };

export const seeded = (seed: number): Seeded => {
  let state = seed | 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const normal = (): number => {
    let u = uniform();
    while (u === 0) u = uniform();
    return Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * uniform());
  };
  return { uniform, normal };
};
