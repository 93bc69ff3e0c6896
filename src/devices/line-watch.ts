import { createFloodGate, mostPerS } from './flood-gate.js';
import { createNoiseWatch } from './noise-watch.js';
import type { Profile } from './profile.js';

/** Watches how a line does: silence, noise, a wrong speed, a flood, each told once when it begins and once when it is over. */
export type LineWatch = {
  readonly bytes: (chunk: Buffer, monoMs: number) => void;
  /** Bytes came that are not looked at here. */
  readonly heard: (monoMs: number) => void;
  readonly good: (monoMs: number) => void;
  readonly bad: () => void;
  /** Whether one more message may be looked at, or is too many; those are counted by the caller. */
  readonly passes: (monoMs: number) => boolean;
  /** Looks whether something is to be told; `flooded` = how many messages were too many so far. */
  readonly look: (monoMs: number, flooded: number) => void;
  readonly opened: (monoMs: number) => void;
};

export type LineState = 'silent' | 'noisy' | 'flooding' | 'back';

export const createLineWatch = (profile: Profile, tell: (state: LineState, detail: string) => void): LineWatch => {
  const noise = createNoiseWatch();
  const flood = createFloodGate(profile.expect_per_s);
  const text = profile.encoding !== 'binary' && profile.body === 'plain';
  const { baud, data_bits, parity } = profile.port;
  // In a list of doubles, because a captured number that changes with every message is made anew every time.
  const last = new Float64Array([0, Number.NEGATIVE_INFINITY]);
  let trouble: 'silent' | 'noisy' | null = null;
  let speedTold = false;
  let flooding = false;
  let floodedBefore = 0;

  const wrongSpeed = (): boolean => text && noise.looksLikeWrongSpeed();
  const tellNoise = (): void => {
    trouble = 'noisy';
    speedTold = wrongSpeed();
    tell(
      'noisy',
      speedTold
        ? `most bytes are no text: the speed is probably wrong (the profile says ${baud} baud, ${data_bits} data bits, parity ${parity}). Try holdreg ports --guess.`
        : 'most of what comes cannot be understood: check the cable and the profile, or try holdreg ports.',
    );
  };
  const tellSilence = (): void => {
    trouble = 'silent';
    const seconds = (profile.stale_ms / 1000).toFixed(profile.stale_ms < 10_000 ? 1 : 0);
    tell(
      'silent',
      `nothing from the sensor for ${seconds} s: if the web runs, look whether the sensor has power and sees it.`,
    );
  };
  const lookAtFlood = (monoMs: number, flooded: number): void => {
    if (flood.flooding(monoMs) === flooding) return;
    flooding = !flooding;
    if (flooding) {
      tell(
        'flooding',
        `more than ${mostPerS(profile.expect_per_s)} messages a second come, the profile expects ${profile.expect_per_s}: what is too much is counted and not read. Look at the sensor's settings.`,
      );
    } else {
      tell('back', `the flood is over: ${flooded - floodedBefore} messages were counted and not read`);
      floodedBefore = flooded;
    }
  };

  return {
    bytes: (chunk, monoMs) => {
      last[BYTE_MS] = monoMs;
      noise.bytes(chunk);
    },
    heard: (monoMs) => {
      last[BYTE_MS] = monoMs;
    },
    good: (monoMs) => {
      last[GOOD_MS] = monoMs;
      noise.good();
      if (trouble !== 'silent') return;
      trouble = null;
      tell('back', 'the sensor speaks again');
    },
    bad: noise.bad,
    passes: flood.passes,
    look: (monoMs, flooded) => {
      const late = monoMs - (last[GOOD_MS] ?? 0) >= profile.stale_ms;
      const bytesCome = monoMs - (last[BYTE_MS] ?? 0) < profile.stale_ms;
      const noisy = bytesCome && (noise.noisy() || late);
      // Noise is told again when it turns out what it is.
      if (noisy && (trouble !== 'noisy' || (!speedTold && wrongSpeed()))) tellNoise();
      else if (late && !bytesCome && trouble !== 'silent') tellSilence();
      else if (trouble === 'noisy' && !noise.noisy() && !late) {
        trouble = null;
        tell('back', 'the sensor can be understood again');
      }
      lookAtFlood(monoMs, flooded);
    },
    opened: (monoMs) => {
      last[GOOD_MS] = monoMs;
      last[BYTE_MS] = Number.NEGATIVE_INFINITY;
      trouble = null;
      noise.reset();
    },
  };
};

/** When a message was last understood, and a byte last came. */
const GOOD_MS = 0;
const BYTE_MS = 1;
