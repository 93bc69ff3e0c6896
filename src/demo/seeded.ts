/** Numbers that look random and are the same on every machine (mulberry32, Ettinger 2017, public domain; written anew from its description). */
export type Seeded = { readonly uniform: () => number; readonly normal: () => number };

export const seeded = (seed: number): Seeded => {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  // Box and Muller 1958; the second of the pair is let go so that one draw is one number.
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, normal };
};
