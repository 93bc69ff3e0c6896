import type { SensorReading } from '../core/sensor-reading.js';
import { createFloodGate, mostPerS } from './flood-gate.js';
import { createJumpGate } from './jump-gate.js';
import { createNoiseWatch } from './noise-watch.js';
import type { Profile, Refusal } from './profile.js';
import { newCounting, type SensorCounts } from './sensor-counts.js';
import type { SensorEvent } from './sensor-event.js';
import { type Framed, messageText, type WholeMessage, wholeMessage } from './splitter.js';
import { splitterFor } from './splitter-for.js';
import { createStuckWatch } from './stuck-watch.js';
import { understandWith } from './understand.js';
import { wireText } from './wire-text.js';

/** From bytes to events: all that is known of a sensor apart from its port. Works the same on a live line and on a raw record. */
export type SensorFeed = {
  readonly push: (chunk: Buffer, monoMs: number) => void;
  /** Time passes; to be called a few times a second. */
  readonly tick: (monoMs: number) => void;
  readonly opened: (monoMs: number) => void;
  /** The line was cut: what is pending is half a message. */
  readonly lost: () => void;
  /** A new question is asked: what is pending belonged to the last one. */
  readonly asked: () => void;
  /** One whole message that was not cut out of the stream here (an answer taken by a library). */
  readonly message: (raw: string, monoMs: number) => void;
  /** A message that was refused elsewhere. */
  readonly refused: (why: Refusal, detail: string, raw: string, monoMs: number) => void;
  /** Messages understood so far, heartbeats too. */
  readonly answers: () => number;
  readonly counts: () => SensorCounts;
};

export type FeedOptions = {
  readonly profile: Profile;
  readonly now: () => number;
  readonly onEvent: (event: SensorEvent) => void;
  /** Stations of the job; readings of others are refused and told. Not given = all are taken. */
  readonly stations?: readonly string[];
  /** Every refused message whole, for whoever keeps them. */
  readonly onRefused?: (raw: string, why: Refusal) => void;
};

/** Refused messages told one by one in a second; the rest are told as a number. */
const TELL_PER_S = 5;

export const createSensorFeed = ({ profile, now, onEvent, onRefused, stations }: FeedOptions): SensorFeed => {
  const understand = understandWith(profile);
  const jump = createJumpGate(profile.limits.jump_mm);
  const stuck = createStuckWatch(profile.stuck_after);
  const flood = createFloodGate(profile.expect_per_s);
  const noise = createNoiseWatch();
  const counts = newCounting();
  const quality = profile.encoding === 'binary' || profile.body === 'hex-pairs' ? 'binary' : 'text';
  let monoNow = 0;
  let answers = 0;
  let answerMs = 0;
  let byteMs = Number.NEGATIVE_INFINITY;
  let open = false;
  let trouble: 'silent' | 'noisy' | null = null;
  const stuckStations = new Set<string>();
  let flooding = false;
  let floodedBefore = 0;
  let tellFromMs = Number.NEGATIVE_INFINITY;
  let told = 0;
  let untold = 0;

  const state = (to: 'silent' | 'noisy' | 'flooding' | 'back', detail: string): void =>
    onEvent({ kind: 'state', state: to, detail });

  const refuse = (why: Refusal, detail: string, raw: string): void => {
    counts.refused[why] += 1;
    onRefused?.(raw, why);
    if (monoNow - tellFromMs >= 1000) {
      tellFromMs = monoNow;
      told = 0;
    }
    told += 1;
    if (told > TELL_PER_S) {
      untold += 1;
      return;
    }
    const more = untold > 0 ? ` (and ${untold} more before it)` : '';
    untold = 0;
    onEvent({
      kind: 'refused',
      line: wireText(raw.replace(/[\r\n]+$/, '')),
      why: `${why}: ${wireText(detail)}${more}`,
    });
  };

  const alive = (): void => {
    answers += 1;
    answerMs = monoNow;
    noise.good();
    if (trouble === 'silent') {
      trouble = null;
      state('back', 'the sensor speaks again');
    }
  };

  const keep = (readings: readonly SensorReading[], message: WholeMessage): readonly SensorReading[] => {
    let all = readings;
    for (let i = 0; i < readings.length; i += 1) {
      const reading = readings[i];
      if (reading === undefined) continue;
      if (stations !== undefined && !stations.includes(reading.station)) {
        refuse('station', `station ${reading.station} is not in the job`, messageText(message));
        all = all.filter((r) => r !== reading);
      } else if (!jump.passes(reading)) {
        refuse(
          'jump',
          `station ${reading.station}: more than ${profile.limits.jump_mm} mm from the reading before`,
          messageText(message),
        );
        all = all.filter((r) => r !== reading);
      } else if (stuck.isStuck(reading)) {
        counts.stuck += 1;
        if (!stuckStations.has(reading.station)) {
          stuckStations.add(reading.station);
          state(
            'silent',
            `station ${wireText(reading.station)} has sent the very same value ${profile.stuck_after} times: the sensor is stuck. Its readings are not used; look at the sensor.`,
          );
        }
        all = all.filter((r) => r !== reading);
      } else if (stuckStations.size > 0 && stuckStations.delete(reading.station) && stuckStations.size === 0) {
        state('back', `station ${wireText(reading.station)} changes again; none is stuck any more`);
      }
    }
    return all;
  };

  const take = (framed: Framed): void => {
    counts.messages += 1;
    if (!flood.passes(monoNow)) {
      counts.flooded += 1;
      return;
    }
    if (framed.kind === 'bad') {
      noise.bad();
      refuse(
        framed.why,
        framed.why === 'half' ? `${framed.bytes} bytes, only part of a message` : `${framed.bytes} bytes`,
        framed.raw,
      );
      return;
    }
    const u = understand(framed);
    if (u.kind === 'refused') {
      noise.bad();
      refuse(u.why, u.detail, messageText(framed));
      return;
    }
    alive();
    if (u.kind !== 'readings') {
      counts.other += 1;
      return;
    }
    const readings = keep(u.readings, framed);
    if (readings.length === 0) return;
    counts.readings += readings.length;
    onEvent({ kind: 'readings', readings, at_ms: now(), counter_m: u.counter_m });
  };
  const splitter = splitterFor(profile, take);

  const speed = `${profile.port.baud} baud, ${profile.port.data_bits} data bits, parity ${profile.port.parity}`;
  const wrongSpeed = (): boolean => quality === 'text' && noise.looksLikeWrongSpeed();
  let speedTold = false;
  const tellNoise = (): void => {
    trouble = 'noisy';
    speedTold = wrongSpeed();
    state(
      'noisy',
      speedTold
        ? `most bytes are no text: the speed is probably wrong (the profile says ${speed}). Try holdreg ports --guess.`
        : 'most of what comes cannot be understood: check the cable and the profile, or try holdreg ports.',
    );
  };

  const watch = (): void => {
    if (!open) return;
    const late = monoNow - answerMs >= profile.stale_ms;
    const bytesCome = monoNow - byteMs < profile.stale_ms;
    const noisy = bytesCome && (noise.noisy() || late);
    // Told again when it turns out what it is.
    if (noisy && (trouble !== 'noisy' || (!speedTold && wrongSpeed()))) {
      tellNoise();
    } else if (late && !bytesCome && trouble !== 'silent') {
      trouble = 'silent';
      state(
        'silent',
        `nothing from the sensor for ${(profile.stale_ms / 1000).toFixed(profile.stale_ms < 10_000 ? 1 : 0)} s: if the web runs, look whether the sensor has power and sees it.`,
      );
    } else if (trouble === 'noisy' && !noise.noisy() && !late) {
      trouble = null;
      state('back', 'the sensor can be understood again');
    }
    if (flood.flooding(monoNow) === flooding) return;
    flooding = !flooding;
    if (flooding) {
      state(
        'flooding',
        `more than ${mostPerS(profile.expect_per_s)} messages a second come, the profile expects ${profile.expect_per_s}: what is too much is counted and not read. Look at the sensor's settings.`,
      );
      return;
    }
    state('back', `the flood is over: ${counts.flooded - floodedBefore} messages were counted and not read`);
    floodedBefore = counts.flooded;
  };

  return {
    push: (chunk, monoMs) => {
      monoNow = monoMs;
      byteMs = monoMs;
      counts.bytes += chunk.length;
      noise.bytes(chunk);
      splitter.push(chunk, monoMs);
      watch();
    },
    tick: (monoMs) => {
      monoNow = monoMs;
      if (!open) return;
      splitter.idle(monoMs);
      watch();
    },
    opened: (monoMs) => {
      monoNow = monoMs;
      answerMs = monoMs;
      byteMs = Number.NEGATIVE_INFINITY;
      open = true;
      trouble = null;
      noise.reset();
      stuck.reset();
      stuckStations.clear();
      jump.reset();
      splitter.opened(monoMs);
    },
    lost: () => {
      open = false;
      splitter.cut();
    },
    asked: () => splitter.cut(),
    message: (raw, monoMs) => {
      monoNow = monoMs;
      byteMs = monoMs;
      counts.bytes += raw.length;
      take({ kind: 'frame', ...wholeMessage(raw) });
      watch();
    },
    refused: (why, detail, raw, monoMs) => {
      monoNow = monoMs;
      if (raw !== '') byteMs = monoMs;
      counts.bytes += raw.length;
      counts.messages += 1;
      noise.bad();
      refuse(why, detail, raw);
      watch();
    },
    answers: () => answers,
    counts: () => ({ ...counts, refused: { ...counts.refused } }),
  };
};
