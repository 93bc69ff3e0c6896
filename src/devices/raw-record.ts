import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type BoundedFile, boundedFiles, openBoundedFile } from './bounded-file.js';
import { bytesToSend } from './bytes-to-send.js';
import type { Profile, Refusal } from './profile.js';
import type { SensorCounts } from './sensor-counts.js';
import type { SensorEvent } from './sensor-event.js';
import { createSensorFeed } from './sensor-feed.js';
import { wireText } from './wire-text.js';

export type RecordOptions = {
  readonly folder: string;
  readonly now: () => number;
  readonly onTrouble: (why: string) => void;
  readonly maxBytes?: number;
  readonly maxAgeMs?: number;
};

const DAY_MS = 86_400_000;

/** What came off the wire, byte for byte with its time; 64 MB and two weeks unless said otherwise. For `onRaw` of a sensor. */
export const openRawRecord = async (
  options: RecordOptions,
): Promise<{ readonly keep: (chunk: Buffer, atMs: number) => void; readonly close: () => Promise<void> }> => {
  const file = await openBoundedFile({ name: 'raw', maxBytes: 64_000_000, maxAgeMs: 14 * DAY_MS, ...options });
  return { keep: (chunk, atMs) => file.write(`${atMs} ${chunk.toString('base64')}\n`), close: file.close };
};

/** Refused messages with time and reason, safe to read; 4 MB and two weeks unless said otherwise. For `onRefused` of a sensor. */
export const openRefusedRecord = async (
  options: RecordOptions,
): Promise<{ readonly keep: (raw: string, why: Refusal) => void; readonly close: () => Promise<void> }> => {
  const file: BoundedFile = await openBoundedFile({
    name: 'refused',
    maxBytes: 4_000_000,
    maxAgeMs: 14 * DAY_MS,
    ...options,
  });
  return {
    keep: (raw, why) => file.write(`${new Date(options.now()).toISOString()} ${why}: ${wireText(raw, 512)}\n`),
    close: file.close,
  };
};

export type RawChunk = { readonly at_ms: number; readonly bytes: Buffer };

/** What a raw record holds, oldest first; a line torn by a crash is left out and counted. */
export const readRawRecord = async (
  folder: string,
): Promise<{ readonly chunks: readonly RawChunk[]; readonly torn: number }> => {
  const chunks: RawChunk[] = [];
  let torn = 0;
  for (const name of await boundedFiles(folder, 'raw')) {
    const lines = (await readFile(join(folder, name), 'latin1')).split('\n');
    if (lines.pop() !== '') torn += 1;
    for (const line of lines) {
      const found = /^(\d+) ([A-Za-z0-9+/]*={0,2})$/.exec(line);
      if (found === null) torn += 1;
      else chunks.push({ at_ms: Number(found[1]), bytes: Buffer.from(found[2] ?? '', 'base64') });
    }
  }
  return { chunks, torn };
};

/** Plays a raw record through a profile: the same events as when it came, at the times it came. */
export const replayRaw = (
  profile: Profile,
  chunks: readonly RawChunk[],
  onEvent: (event: SensorEvent) => void,
): SensorCounts => {
  let atMs = chunks[0]?.at_ms ?? 0;
  const feed = createSensorFeed({ profile, now: () => atMs, onEvent });
  const answers = answersOf(profile);
  feed.opened(atMs - 1000);
  for (const { at_ms, bytes } of chunks) {
    atMs = at_ms;
    if (answers === null) feed.push(withoutEcho(profile, bytes), at_ms);
    else for (const answer of answers(bytes, at_ms)) feed.message(answer, at_ms);
  }
  feed.tick(atMs + 10_000);
  return feed.counts();
};

const withoutEcho = ({ talk }: Profile, bytes: Buffer): Buffer => {
  if (talk.mode !== 'poll' || !talk.echo) return bytes;
  const command = bytesToSend(talk.command);
  return bytes.subarray(0, command.length).equals(command) ? bytes.subarray(command.length) : bytes;
};

/** Modbus answers are cut by their length, as when they came; what is left of one after a pause is half. */
const answersOf = ({ talk }: Profile): ((bytes: Buffer, atMs: number) => readonly string[]) | null => {
  if (talk.mode !== 'modbus-rtu') return null;
  let got = '';
  let lastMs = 0;
  return (bytes, atMs) => {
    if (atMs - lastMs >= talk.timeout_ms) got = '';
    lastMs = atMs;
    got += bytes.toString('latin1');
    const whole: string[] = [];
    for (;;) {
      const length = (got.charCodeAt(1) & 0x80) === 0x80 ? 5 : 5 + 2 * talk.count;
      if (got.length < length) return whole;
      whole.push(got.slice(0, length));
      got = got.slice(length);
    }
  };
};
