import {
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openBoundedFile } from '../../src/devices/bounded-file.js';
import { openSensor } from '../../src/devices/open-sensor.js';
import { openRawRecord, openRefusedRecord, readRawRecord, replayRaw } from '../../src/devices/raw-record.js';
import type { SensorEvent } from '../../src/devices/sensor-event.js';
import { simulatedLine } from '../../src/devices/simulated-line.js';
import { createSimulatedPress } from '../../src/devices/simulated-press.js';
import { simulatedPty } from '../../src/devices/simulated-pty.js';
import { exampleWeb } from './support/example-web.js';
import { profileFile } from './support/profile-file.js';
import { seeded } from './support/seeded.js';
import { until } from './support/until.js';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'holdreg-raw-'));
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});
const trouble = (why: string): void => {
  throw new Error(why);
};
const readings = (events: readonly SensorEvent[]): unknown[] =>
  events.flatMap((e) => (e.kind === 'readings' ? e.readings : []));

describe.each(['sentence-xor.json', 'line-delimited.json', 'modbus-rtu.json', 'query.json'])(
  '%s: what came off the wire',
  (name) => {
    it('is kept byte for byte and gives the same readings when played again', async () => {
      const file = profileFile(name);
      const profile = {
        ...file,
        talk: file.talk.mode === 'push' ? file.talk : { ...file.talk, every_ms: 20 },
        stuck_after: 0,
      };
      const press = createSimulatedPress({
        web: exampleWeb({ noise_mm: { along: 0.02, across: 0.02 }, share_bad: 0.1 }),
        profile,
        random: seeded(4),
      });
      press.setSpeed(120);
      const pty = await simulatedPty(press);
      if (!pty.ok) throw new Error(pty.problem.message);
      const raw = await openRawRecord({ folder, now: Date.now, onTrouble: trouble });
      const refused = await openRefusedRecord({ folder, now: Date.now, onTrouble: trouble });
      const live: SensorEvent[] = [];
      let bytes = Buffer.alloc(0);
      const sensor = openSensor({
        port: pty.value.path,
        profile,
        now: Date.now,
        onEvent: (e) => live.push(e),
        onRaw: (chunk, at) => {
          bytes = Buffer.concat([bytes, chunk]);
          raw.keep(chunk, at);
        },
        onRefused: refused.keep,
      });
      await until('open', () => live.length > 0);
      await new Promise((resolve) => setTimeout(resolve, 150));
      const timer = setInterval(() => pty.value.advance(60), 5);
      await until('readings', () => readings(live).length > 60);
      if (profile.talk.mode === 'push') press.fault('wrong checksum');
      await until(
        'more',
        () => readings(live).length > 60 && (profile.talk.mode !== 'push' || sensor.counts().messages > 150),
      );
      clearInterval(timer);
      await sensor.close();
      await raw.close();
      await refused.close();
      await pty.value.close();
      const kept = await readRawRecord(folder);
      expect(kept.torn).toBe(0);
      expect(Buffer.concat(kept.chunks.map((c) => c.bytes)).equals(bytes)).toBe(true);
      const again: SensorEvent[] = [];
      const counts = replayRaw(profile, kept.chunks, (e) => again.push(e));
      expect(readings(again)).toEqual(readings(live));
      if (profile.talk.mode === 'push') {
        expect(counts.refused).toEqual(sensor.counts().refused);
        const lines = readdirSync(folder)
          .filter((f) => f.startsWith('refused-'))
          .flatMap((f) => readFileSync(join(folder, f), 'latin1').trim().split('\n'));
        const total = Object.values(sensor.counts().refused).reduce((a, b) => a + b, 0);
        if (name === 'sentence-xor.json') {
          expect(total).toBeGreaterThan(10);
          expect(lines.length).toBe(total);
          expect(lines[0]).toMatch(/^\d{4}-\d\d-\d\dT[\d:.]+Z checksum: PJREG,/);
        }
      }
    });
  },
);

describe('a sensor that keeps what comes', () => {
  it('keeps raw bytes and refused messages in the folder it is given, and says once when it cannot', async () => {
    const line = simulatedLine(
      createSimulatedPress({ web: exampleWeb(), profile: profileFile('line-delimited.json'), random: seeded(1) }),
    );
    let send: (text: string) => void = () => undefined;
    const openLine: typeof line.openLine = async (path, settings, handlers) => {
      send = (text) => handlers.onData(Buffer.from(text));
      return line.openLine(path, settings, handlers);
    };
    const events: SensorEvent[] = [];
    const options = {
      port: 'x',
      profile: profileFile('line-delimited.json'),
      now: Date.now,
      onEvent: (e: SensorEvent) => events.push(e),
      openLine,
    };
    const sensor = openSensor({ ...options, keep: { folder: join(folder, 'sensor'), raw: true } });
    await until('open', () => events.length > 0);
    await new Promise((resolve) => setTimeout(resolve, 150));
    send('2,0.1,0,80\r\nrubbish\r\n');
    await sensor.close();
    expect((await readRawRecord(join(folder, 'sensor'))).chunks.map((c) => c.bytes.toString())).toEqual([
      '2,0.1,0,80\r\nrubbish\r\n',
    ]);
    expect(readFileSync(join(folder, 'sensor', 'refused-000001.txt'), 'latin1')).toMatch(/Z fields: rubbish\n$/);
    writeFileSync(join(folder, 'taken'), '');
    events.length = 0;
    const other = openSensor({ ...options, keep: { folder: join(folder, 'taken'), raw: true } });
    await until('told', () => events.some((e) => e.kind === 'refused'));
    await until('open', () => events.some((e) => e.kind === 'state'));
    await other.close();
    expect(events.filter((e) => e.kind === 'refused').length).toBe(1);
  });
});

describe('a bounded record', () => {
  const all = (): string[] => readdirSync(folder).toSorted();
  const size = (): number => all().reduce((sum, f) => sum + statSync(join(folder, f)).size, 0);

  it('never grows beyond its bound, and keeps the newest', async () => {
    const file = await openBoundedFile({
      folder,
      name: 'raw',
      maxBytes: 40_000,
      maxAgeMs: 1e12,
      now: Date.now,
      onTrouble: trouble,
    });
    for (let i = 0; i < 5000; i += 1) {
      file.write(`${i} ${'x'.repeat(40)}\n`);
      if (i % 100 === 0) await new Promise((resolve) => setTimeout(resolve, 0));
    }
    await file.close();
    expect(size()).toBeLessThanOrEqual(45_000);
    expect(size()).toBeGreaterThan(20_000);
    expect(readFileSync(join(folder, all().at(-1) ?? ''), 'latin1')).toContain('4999 ');
  });
  it('throws away what is too old, goes on counting files, and touches no others', async () => {
    const old = join(folder, 'raw-000003.txt');
    writeFileSync(old, '1 AA==\n');
    utimesSync(old, 1000, 1000);
    writeFileSync(join(folder, 'mine.txt'), 'x');
    const file = await openBoundedFile({
      folder,
      name: 'raw',
      maxBytes: 40_000,
      maxAgeMs: 60_000,
      now: Date.now,
      onTrouble: trouble,
    });
    file.write('2 AA==\n');
    await file.close();
    expect(all()).toEqual(['mine.txt', 'raw-000004.txt']);
  });
  it('a last line torn by a crash is left out and counted', async () => {
    const raw = await openRawRecord({ folder, now: Date.now, onTrouble: trouble });
    raw.keep(Buffer.from('abc'), 1);
    raw.keep(Buffer.from([0, 255, 10]), 2);
    await raw.close();
    const path = join(folder, 'raw-000001.txt');
    const whole = await readRawRecord(folder);
    expect(whole.chunks.map((c) => [c.at_ms, [...c.bytes]])).toEqual([
      [1, [97, 98, 99]],
      [2, [0, 255, 10]],
    ]);
    truncateSync(path, statSync(path).size - 2);
    expect(await readRawRecord(folder)).toMatchObject({ torn: 1, chunks: [{ at_ms: 1 }] });
  });
  it('a disk that cannot be written is told once and stops nothing', async () => {
    const told: string[] = [];
    const file = await openBoundedFile({
      folder,
      name: 'raw',
      maxBytes: 40_000,
      maxAgeMs: 1e12,
      now: Date.now,
      onTrouble: (why) => told.push(why),
    });
    rmSync(folder, { recursive: true });
    writeFileSync(folder, 'a file where the folder was');
    file.write('1 AA==\n');
    file.write('2 AA==\n');
    await file.close();
    file.write('3 AA==\n');
    expect(told.length).toBe(1);
  });
});
