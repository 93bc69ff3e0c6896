/**
 * Chance numbers that are the same on every machine for the same seed: for run lengths found by simulation.
 * How: xoshiro128** on four 32-bit words, seeded by splitmix32; normal values by the polar method.
 * Source: D. Blackman and S. Vigna (2021), ACM Trans. Math. Softw. 47(4), 36 (xoshiro128**); G. Marsaglia and T. A. Bray
 * (1964), SIAM Review 6, 260-264 (polar method). Example: a million normals of seed 1 have mean 0 and sd 1 within three
 * standard errors.
 */
export type SeededNumbers = { readonly uniform: () => number; readonly normal: () => number };

export const seededNumbers = (seed: number): SeededNumbers => {
  const words = seedWords(seed);
  let spare: number | null = null;
  const uniform = (): number => (nextWord(words) * 2 ** -32 + (nextWord(words) >>> 11) * 2 ** -53) % 1;
  const normal = (): number => {
    if (spare !== null) {
      const kept = spare;
      spare = null;
      return kept;
    }
    for (;;) {
      const x = 2 * uniform() - 1;
      const y = 2 * uniform() - 1;
      const square = x * x + y * y;
      if (square > 0 && square < 1) {
        const factor = Math.sqrt((-2 * Math.log(square)) / square);
        spare = y * factor;
        return x * factor;
      }
    }
  };
  return { uniform, normal };
};

const seedWords = (seed: number): Uint32Array => {
  const words = new Uint32Array(4);
  let state = seed | 0;
  for (let i = 0; i < 4; i += 1) {
    state = (state + 0x9e3779b9) | 0;
    let mixed = state ^ (state >>> 16);
    mixed = Math.imul(mixed, 0x21f0aaad);
    mixed ^= mixed >>> 15;
    mixed = Math.imul(mixed, 0x735a2d97);
    words[i] = mixed ^ (mixed >>> 15);
  }
  return words;
};

const nextWord = (words: Uint32Array): number => {
  const [a = 0, b = 0, c = 0, d = 0] = words;
  const five = Math.imul(b, 5);
  const result = Math.imul((five << 7) | (five >>> 25), 9) >>> 0;
  const shifted = b << 9;
  const third = c ^ a;
  const fourth = d ^ b;
  words[1] = b ^ third;
  words[0] = a ^ fourth;
  words[2] = third ^ shifted;
  words[3] = (fourth << 11) | (fourth >>> 21);
  return result;
};
