import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { SensorReading } from '../../src/core/sensor-reading.js';
import { sayWith } from '../../src/devices/say-with.js';
import { createSensorFeed } from '../../src/devices/sensor-feed.js';
import { wholeMessage } from '../../src/devices/splitter.js';
import { splitterFor } from '../../src/devices/splitter-for.js';
import { understandWith } from '../../src/devices/understand.js';
import { fuzz, mutate, randomReadings } from './support/fuzz.js';
import { profileFile } from './support/profile-file.js';
import { seeded } from './support/seeded.js';

const names = readdirSync(new URL('../../devices/', import.meta.url)).filter((name) => name.endsWith('.json'));
/** A million a profile was run once by hand; the suite runs fewer. */
const LINES = Number(process.env.FUZZ_LINES ?? 10_000);

/** How often a random check value fits by chance, by its kind. */
const COLLISION = {
  xor: 1 / 256,
  'sum-8': 1 / 256,
  lrc: 1 / 256,
  'crc-8': 1 / 256,
  'crc-16-modbus': 1 / 65536,
  'crc-16-ccitt': 1 / 65536,
  'crc-16-xmodem': 1 / 65536,
} as const;

/** Whether a message of a shipped profile carries the right check value: bit by bit from the definitions, sharing nothing with the program. */
const matches = (name: string, body: string, trailer: string): boolean => {
  const codes = [...body].map((c) => c.charCodeAt(0));
  if (name === 'sentence-xor.json') {
    const at = body.length - 3;
    const sum = codes.slice(0, at).reduce((a, b) => a ^ b, 0);
    return body[at] === '*' && body.slice(at + 1) === sum.toString(16).toUpperCase().padStart(2, '0');
  }
  if (name === 'block-check.json') return trailer.charCodeAt(0) === codes.reduce((a, b) => a ^ b, 3);
  if (name === 'modbus-ascii.json') {
    if (!/^([0-9A-F]{2})+$/.test(body)) return false;
    return [...Buffer.from(body, 'hex')].reduce((a, b) => a + b, 0) % 256 === 0;
  }
  let crc = 0xffff;
  for (const code of codes) {
    crc ^= code;
    for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? (crc >> 1) ^ 0xa001 : crc >> 1;
  }
  // A CRC taken over data and its own value is 0.
  return codes.length > 2 && crc === 0;
};

describe.each(names)('%s', (name) => {
  const file = profileFile(name);
  const profile = { ...file, expect_per_s: 5000, stuck_after: 0 };

  it(`${LINES} random and mutated lines: nothing is thrown, what passes is within range, wrong ones pass no oftener than the check value lets them`, () => {
    const got = fuzz(profile, LINES, seeded(20261125));
    if (process.env.FUZZ_LINES !== undefined)
      console.log(name, JSON.stringify(got), `heap ${(process.memoryUsage().heapUsed / 1e6).toFixed(0)} MB`);
    expect(got.refused).toBeGreaterThan(LINES / 4);
    expect(got.worst_mm).toBeLessThanOrEqual(profile.limits.along_mm);
    // Most mutations break the form; of the rest one in 256 (65 536) has a check value that fits by chance, and a swap of two bytes leaves an
    // exclusive-or and a sum as they were. The rates measured over a million lines stand in devices/README.md.
    const rate = got.wrong / got.mutated;
    if (profile.checksum?.kind.startsWith('crc'))
      expect(rate).toBeLessThan(3 * COLLISION[profile.checksum.kind] + 3 / got.mutated);
    else if (profile.checksum !== undefined) expect(rate).toBeLessThan(0.02);
  });

  if (profile.checksum === undefined) return;

  it('no message whose check value does not match is ever accepted, by a check written differently', () => {
    const random = seeded(77);
    const say = sayWith(profile);
    const understand = understandWith(profile);
    let mismatches = 0;
    for (let k = 0; k < 5000; k += 1) {
      const wire = mutate(say(randomReadings(profile, random), Math.round(random() * 1e5) / 10)[0] ?? '', random);
      const frames: { body: string; trailer: string }[] = [];
      const splitter = splitterFor(
        profile,
        (f) => f.kind === 'frame' && frames.push({ body: f.text.slice(f.from, f.to), trailer: f.trailer }),
      );
      splitter.opened(0);
      splitter.push(Buffer.from(wire, 'latin1'), 1000);
      splitter.idle(9000);
      for (const { body, trailer } of frames) {
        if (matches(name, body, trailer)) continue;
        mismatches += 1;
        expect(understand(wholeMessage(body, trailer)).kind).toBe('refused');
      }
    }
    expect(mismatches).toBeGreaterThan(1000);
  });

  it('no single wrong bit in two messages ever gives a reading that was not sent', () => {
    const random = seeded(9);
    const say = sayWith(profile);
    const readAll = (wire: string, cutAt: number | null): SensorReading[] => {
      const got: SensorReading[] = [];
      const feed = createSensorFeed({
        profile,
        now: () => 0,
        onEvent: (e) => e.kind === 'readings' && got.push(...e.readings),
      });
      feed.opened(0);
      if (cutAt === null) feed.push(Buffer.from(wire, 'latin1'), 1000);
      else {
        feed.push(Buffer.from(wire.slice(0, cutAt), 'latin1'), 1000);
        feed.tick(1500);
        feed.push(Buffer.from(wire.slice(cutAt), 'latin1'), 1500);
      }
      feed.tick(9000);
      return got;
    };
    for (let k = 0; k < 12; k += 1) {
      const first = say(randomReadings(profile, random), Math.round(random() * 1e5) / 10)[0] ?? '';
      const second = say(randomReadings(profile, random), Math.round(random() * 1e5) / 10)[0] ?? '';
      const wire = first + second;
      const cutAt = profile.frame.kind === 'silence' ? first.length : null;
      const sent = readAll(wire, cutAt);
      const keys = new Set(sent.map((r) => JSON.stringify(r)));
      expect(sent.length).toBeGreaterThan(1);
      for (let i = 0; i < wire.length; i += 1) {
        for (let bit = 0; bit < 8; bit += 1) {
          const wrong = wire.slice(0, i) + String.fromCharCode(wire.charCodeAt(i) ^ (1 << bit)) + wire.slice(i + 1);
          const got = readAll(wrong, cutAt);
          for (const r of got)
            expect(keys.has(JSON.stringify(r)), `bit ${bit} of byte ${i} in ${JSON.stringify(wire)}`).toBe(true);
          expect(got.length).toBeLessThan(sent.length);
        }
      }
    }
  });
});
