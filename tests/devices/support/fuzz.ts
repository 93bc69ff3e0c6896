import type { SensorReading } from '../../../src/core/sensor-reading.js';
import type { Profile } from '../../../src/devices/profile.js';
import { sayWith } from '../../../src/devices/say-with.js';
import { createSensorFeed } from '../../../src/devices/sensor-feed.js';

/** What a fuzz run of one profile gave. */
export type FuzzCount = {
  readonly lines: number;
  readonly accepted: number;
  /** Accepted though the message had been changed, and says something else than before. */
  readonly wrong: number;
  readonly mutated: number;
  readonly refused: number;
  readonly worst_mm: number;
};

/** Random readings of the stations a profile knows. */
export const randomReadings = (profile: Profile, random: () => number): readonly SensorReading[] => {
  const fixed = profile.readings.flatMap((r) => (typeof r.station === 'string' ? [r.station] : []));
  const ids = fixed.length > 0 ? fixed : [['2', '3', 'D'][Math.floor(random() * 3)] ?? '2'];
  return ids.map((station) => ({
    station,
    along_mm: Math.round((random() - 0.5) * 600) / 1000,
    across_mm: Math.round((random() - 0.5) * 600) / 1000,
    strength: Math.round((0.3 + 0.7 * random()) * 100) / 100,
    width_mm: null,
  }));
};

/** A message with one to four bytes changed, dropped, doubled, put in or swapped. */
export const mutate = (message: string, random: () => number): string => {
  let text = message;
  const times = 1 + Math.floor(random() * 4);
  for (let k = 0; k < times; k += 1) {
    const i = Math.floor(random() * text.length);
    const byte = String.fromCharCode(random() < 0.5 ? 0x20 + Math.floor(random() * 95) : Math.floor(random() * 256));
    const how = Math.floor(random() * 5);
    if (how === 0) text = text.slice(0, i) + byte + text.slice(i + 1);
    else if (how === 1) text = text.slice(0, i) + text.slice(i + 1);
    else if (how === 2) text = text.slice(0, i) + byte + text.slice(i);
    else if (how === 3) text = text.slice(0, i) + text.charAt(i) + text.slice(i);
    else text = text.slice(0, i) + text.charAt(i + 1) + text.charAt(i) + text.slice(i + 2);
  }
  return text;
};

/**
 * Feeds a profile's reader with lines of which two thirds are mutated messages and a third are random bytes, each in two pieces, and counts what
 * gets through.
 */
export const fuzz = (profile: Profile, lines: number, random: () => number): FuzzCount => {
  let wrong = 0;
  let accepted = 0;
  let mutated = 0;
  let worst_mm = 0;
  let truth = new Set<string>();
  const say = sayWith(profile);
  const key = (r: SensorReading): string =>
    `${r.station} ${r.along_mm?.toFixed(4)} ${r.across_mm?.toFixed(4)} ${r.strength?.toFixed(3)}`;
  const plain = (message: string): void => {
    const whole = createSensorFeed({
      profile,
      now: () => 0,
      onEvent: (e) => {
        if (e.kind === 'readings') for (const r of e.readings) truth.add(key(r));
      },
    });
    whole.opened(0);
    whole.push(Buffer.from(message, 'latin1'), 1000);
    whole.tick(5000);
  };
  const feed = createSensorFeed({
    profile,
    now: () => 0,
    onEvent: (event) => {
      if (event.kind !== 'readings') return;
      for (const r of event.readings) {
        accepted += 1;
        worst_mm = Math.max(worst_mm, Math.abs(r.along_mm ?? 0), Math.abs(r.across_mm ?? 0));
        if (!truth.has(key(r))) wrong += 1;
      }
    },
  });
  feed.opened(0);
  let atMs = 1000;
  for (let i = 0; i < lines; i += 1) {
    // The truth of the last two messages: one may still be pending.
    if (i % 2 === 0) truth = new Set();
    let text: string;
    if (random() < 0.67) {
      const message = say(randomReadings(profile, random), Math.round(random() * 1e5) / 10)[0] ?? '';
      plain(message);
      text = mutate(message, random);
      mutated += 1;
    } else
      text =
        Array.from({ length: Math.floor(random() * 60) }, () => String.fromCharCode(Math.floor(random() * 256))).join(
          '',
        ) + (random() < 0.5 ? '\r\n' : '');
    const bytes = Buffer.from(text, 'latin1');
    const cut = Math.floor(random() * bytes.length);
    // Far apart enough for framing by silence and so that nothing counts as a flood, near enough not to count as a pause in a line.
    feed.push(bytes.subarray(0, cut), atMs);
    feed.push(bytes.subarray(cut), atMs + 0.1);
    atMs += 30;
    if (profile.frame.kind === 'silence') feed.tick(atMs - 1);
  }
  feed.tick(atMs + 5000);
  const counts = feed.counts();
  return {
    lines,
    accepted,
    wrong,
    mutated,
    refused: Object.values(counts.refused).reduce((a, b) => a + b, 0),
    worst_mm,
  };
};
