/** Small seeded generators (mulberry32 and an integer hash). Nothing here is fit for anything but a simulation. */

export type Rng = () => number;

const mix = (h: number): number => {
  let x = h | 0;
  x = Math.imul(x ^ (x >>> 16), 0x85ebca6b);
  x = Math.imul(x ^ (x >>> 13), 0xc2b2ae35);
  return (x ^ (x >>> 16)) >>> 0;
};

/** One 32-bit number from several. */
export const hash = (...parts: readonly number[]): number => {
  let h = 0x9e3779b9;
  for (const p of parts) h = mix(Math.imul(h ^ Math.floor(p), 0x01000193) + 0x7f4a7c15);
  return h;
};

const wordHash = (word: string): number => {
  let h = 0x811c9dc5;
  for (let i = 0; i < word.length; i++) h = Math.imul(h ^ word.charCodeAt(i), 0x01000193);
  return h >>> 0;
};

/** A stream of its own for each use, so that what one crew does never shifts what the press does. */
export const stream = (seed: number, use: string): Rng => {
  let a = hash(seed, wordHash(use));
  return () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
};

/** Even in 0..1, always the same for the same parts. */
export const hashUniform = (...parts: readonly number[]): number => (hash(...parts) + 0.5) / 4294967296;

/** Standard normal, always the same for the same parts. */
export const hashNormal = (...parts: readonly number[]): number => {
  const u = hashUniform(1, ...parts);
  return Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * hashUniform(2, ...parts));
};

export const normal = (rng: Rng): number => Math.sqrt(-2 * Math.log(1 - rng())) * Math.cos(2 * Math.PI * rng());

export const between = (rng: Rng, [low, high]: readonly [number, number]): number => low + (high - low) * rng();

export const sign = (rng: Rng): number => (rng() < 0.5 ? -1 : 1);

/** A count with the given mean. */
export const poisson = (rng: Rng, mean: number): number => {
  let n = 0;
  for (let p = rng(); mean > 0 && p > Math.exp(-mean); p *= rng()) n++;
  return n;
};
