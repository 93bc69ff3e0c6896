/** Tells when most of what comes cannot be understood, and whether it looks like a wrong speed. */
export type NoiseWatch = {
  readonly bytes: (chunk: Buffer) => void;
  readonly good: () => void;
  readonly bad: () => void;
  readonly noisy: () => boolean;
  /** Most bytes are no text: typical of a wrong speed or parity. */
  readonly looksLikeWrongSpeed: () => boolean;
  readonly reset: () => void;
};

/** This many of the last messages are looked at. */
const LAST = 20;
/** Noisy from this many bad ones, calm again below this many. */
const NOISY = 10;
const CALM = 4;
const BYTES = 512;

export const createNoiseWatch = (): NoiseWatch => {
  /** The last messages as bits, 1 = bad, and how many of them are. */
  let last = 0;
  let count = 0;
  let noisy = false;
  let seen = 0;
  let strange = 0;
  const note = (bad: 0 | 1): void => {
    count += bad - ((last >>> (LAST - 1)) & 1);
    last = ((last << 1) | bad) & (2 ** LAST - 1);
    noisy = noisy ? count >= CALM : count >= NOISY;
  };
  return {
    bytes: (chunk) => {
      const step = Math.max(1, Math.floor(chunk.length / 8));
      for (let i = 0; i < chunk.length; i += step) {
        const b = chunk[i] ?? 0;
        seen += 1;
        if (b >= 0x80 || (b < 0x20 && (b < 9 || b > 13))) strange += 1;
      }
      if (seen > BYTES) {
        seen /= 2;
        strange /= 2;
      }
    },
    good: () => {
      // Only what came since the last message that was understood tells of the noise.
      seen = 0;
      strange = 0;
      if (last !== 0) note(0);
    },
    bad: () => note(1),
    noisy: () => noisy,
    looksLikeWrongSpeed: () => seen >= 16 && strange / seen > 0.25,
    reset: () => {
      last = 0;
      count = 0;
      noisy = false;
      seen = 0;
      strange = 0;
    },
  };
};
