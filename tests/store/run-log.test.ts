import {
  appendFileSync,
  copyFileSync,
  cpSync,
  existsSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { LogRecord, RecordBody } from '../../src/core/record.js';
import type { Result } from '../../src/core/result.js';
import { type Disk, realDisk } from '../../src/store/disk.js';
import { decodeFrame, encodeFrame } from '../../src/store/frame.js';
import { readLog } from '../../src/store/read-log.js';
import { type LogOptions, openRunLog, type RunLog } from '../../src/store/run-log.js';
import { tempFolder } from './temp-folder.js';

const head = { at: '2026-03-02T09:14:05.120Z', by: 'MK' };
const stop = (web_m: number): RecordBody => ({ type: 'stop', web_m });
const note = (text: string): RecordBody => ({ type: 'note', web_m: null, text });

const value = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(result.problem.message);
  return result.value;
};
const message = (result: Result<unknown>): string => (result.ok ? 'no problem' : result.problem.message);

const open = (folder: string, options: LogOptions = {}) => {
  const records: LogRecord[] = [];
  const opened = value(openRunLog(folder, (record) => records.push(record), options));
  return { ...opened, records };
};
const read = (folder: string): { records: LogRecord[]; end: ReturnType<typeof readLog> } => {
  const records: LogRecord[] = [];
  const end = readLog(folder, (record) => records.push(record));
  return { records, end };
};
const fill = async (folder: string, bodies: readonly RecordBody[], options: LogOptions = {}): Promise<void> => {
  const { log } = open(folder, options);
  for (const body of bodies) value(await log.append(body, head));
  value(log.close());
};
const segment = (folder: string, number = 1): string => join(folder, `log-${String(number).padStart(4, '0')}.ndjson`);

describe('a line of the log', () => {
  test('is JSON on its own, with a checksum that general tools confirm', () => {
    const frame = encodeFrame({ v: 1, seq: 17, ...head, ...stop(21450) });
    const text = frame.toString('utf8');
    expect(text).toMatch(
      /^\{"crc":"[0-9a-f]{8}","v":1,"seq":17,"at":"2026-03-02T09:14:05.120Z","by":"MK","type":"stop","web_m":21450\}\n$/,
    );
    // CRC-32 computed with Python's zlib.crc32 over the bytes after the checksum's comma.
    expect(JSON.parse(text).crc).toBe('43431b5e');
    expect(decodeFrame(frame, 0, frame.length - 1)).toEqual({ v: 1, seq: 17, ...head, ...stop(21450) });
  });

  test('takes any text there and back', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), fc.double({ noNaN: true, noDefaultInfinity: true }), (text, web_m) => {
        const record: LogRecord = {
          v: 1,
          seq: 1,
          ...head,
          by: text,
          type: 'note',
          web_m: web_m === 0 ? 0 : web_m,
          text,
        };
        const frame = encodeFrame(record);
        expect(frame.indexOf(10)).toBe(frame.length - 1);
        expect(decodeFrame(frame, 0, frame.length - 1)).toEqual(JSON.parse(JSON.stringify(record)));
      }),
    );
  });

  test('every single bit changed is found', () => {
    const frame = encodeFrame({ v: 1, seq: 17, ...head, ...note('plum läuft') });
    for (let bit = 0; bit < (frame.length - 1) * 8; bit += 1) {
      const changed = Buffer.from(frame);
      changed[bit >> 3] = (changed[bit >> 3] ?? 0) ^ (1 << (bit & 7));
      expect(typeof decodeFrame(changed, 0, frame.length - 1)).toBe('string');
    }
  });
});

describe('a run log', () => {
  test('gives back what was written, in order, over many openings', async () => {
    const folder = tempFolder();
    await fill(folder, [stop(1), stop(2)]);
    const again = open(folder);
    expect(again.records.map(({ seq }) => seq)).toEqual([1, 2]);
    const taken = value(await again.log.append(stop(3), head));
    expect(taken).toEqual({ v: 2, seq: 3, ...head, type: 'stop', web_m: 3 });
    value(again.log.close());
    expect(read(folder).records.map((record) => record.type === 'stop' && record.web_m)).toEqual([1, 2, 3]);
    expect(statSync(segment(folder)).mode & 0o777).toBe(0o600);
  });

  test('an empty folder is an empty log, and a closed log takes nothing', async () => {
    const folder = tempFolder();
    expect(value(read(folder).end)).toEqual({
      segments: [],
      lastSeq: 0,
      bytes: 0,
      place: { segment: 1, offset: 0, line: 0, seq: 0 },
      torn: null,
    });
    const { log } = open(folder);
    value(log.close());
    value(log.close());
    expect(message(await log.append(stop(1), head))).toBe('the run log is closed');
  });

  test('a record is on disk before its append resolves', async () => {
    const order: string[] = [];
    const disk: Disk = {
      ...realDisk,
      write: (fd, bytes, from) => {
        order.push('write');
        return realDisk.write(fd, bytes, from);
      },
      sync: (fd, done) =>
        realDisk.sync(fd, (error) => {
          order.push('synced');
          done(error);
        }),
    };
    const { log } = open(tempFolder(), { disk });
    await log.append(stop(1), head).then(() => order.push('resolved'));
    expect(order).toEqual(['write', 'synced', 'resolved']);
    log.close();
  });

  test('sensor records share one sync; a keyed one in between takes them along; all resolve in order', async () => {
    let syncs = 0;
    const disk: Disk = {
      ...realDisk,
      sync: (fd, done) => {
        syncs += 1;
        realDisk.sync(fd, done);
      },
    };
    const folder = tempFolder();
    const { log } = open(folder, { disk, soonMs: 20 });
    const seen: number[] = [];
    const appends = Array.from({ length: 40 }, (_, i) =>
      log.append(stop(i), head, 'soon').then((r) => seen.push(value(r).seq)),
    );
    await Promise.all(appends);
    expect(syncs).toBe(1);
    const soon = log.append(stop(40), head, 'soon').then((r) => seen.push(value(r).seq));
    const now = log.append(stop(41), head, 'now').then((r) => seen.push(value(r).seq));
    await Promise.all([soon, now]);
    expect(syncs).toBe(2);
    expect(seen).toEqual(Array.from({ length: 42 }, (_, i) => i + 1));
    const last = log.append(stop(42), head, 'soon');
    value(log.flush());
    expect(value(await last).seq).toBe(43);
    log.close();
    expect(read(folder).records).toHaveLength(43);
  });

  test('goes on in a new segment when one has grown past its size', async () => {
    const folder = tempFolder();
    await fill(
      folder,
      Array.from({ length: 30 }, (_, i) => stop(i)),
      { segmentBytes: 400 },
    );
    expect(readdirSync(folder).length).toBeGreaterThan(5);
    const { records, end } = read(folder);
    expect(records.map(({ seq }) => seq)).toEqual(Array.from({ length: 30 }, (_, i) => i + 1));
    expect(value(end).bytes).toBe(value(end).segments.reduce((sum, file) => sum + statSync(file).size, 0));
    const { log } = open(folder, { segmentBytes: 400 });
    const soon = Array.from({ length: 20 }, (_, i) => log.append(stop(i), head, i % 3 === 0 ? 'now' : 'soon'));
    expect((await Promise.all(soon)).map((r) => value(r).seq)).toEqual(Array.from({ length: 20 }, (_, i) => i + 31));
    log.close();
    expect(read(folder).records).toHaveLength(50);
  });

  test('a line longer than the reading chunk, and characters across its border', async () => {
    const folder = tempFolder();
    const texts = [`${'ä'.repeat(200_000)}`, 'short', '🙂'.repeat(140_000)];
    await fill(folder, texts.map(note));
    expect(read(folder).records.map((record) => record.type === 'note' && record.text)).toEqual(texts);
  });
});

describe('a torn tail', () => {
  test('cut at every byte of the last two lines: nothing whole is lost, the broken copy is kept, ten more go on', async () => {
    const folder = tempFolder();
    await fill(folder, [stop(1), note('plum läuft 🙂'), stop(3), note('ü')]);
    const whole = readFileSync(segment(folder));
    const ends = [...whole.entries()].filter(([, byte]) => byte === 10).map(([at]) => at + 1);
    const from = ends[1] ?? 0;
    for (let cut = from; cut <= whole.length; cut += 1) {
      const copy = tempFolder();
      writeFileSync(segment(copy), whole.subarray(0, cut));
      // A line that lacks only its line end is whole.
      const kept = ends.filter((end) => end - 1 <= cut).length;
      expect(read(copy).records).toHaveLength(kept);
      expect(readFileSync(segment(copy)).length).toBe(cut);
      const { log, records, repaired } = open(copy);
      expect(records).toHaveLength(kept);
      const broken = !ends.includes(cut);
      expect(repaired === null).toBe(!broken);
      expect(existsSync(`${segment(copy)}.torn-1`)).toBe(broken);
      if (broken) expect(readFileSync(`${segment(copy)}.torn-1`)).toEqual(whole.subarray(0, cut));
      for (let i = 0; i < 2; i += 1) value(await log.append(stop(100 + i), head));
      log.close();
      const after = read(copy);
      expect(value(after.end).torn).toBeNull();
      expect(after.records.map(({ seq }) => seq)).toEqual(Array.from({ length: kept + 2 }, (_, i) => i + 1));
      rmSync(copy, { recursive: true });
    }
  });

  test('zeros that the disk put where a line was to stand are torn too', async () => {
    const folder = tempFolder();
    await fill(folder, [stop(1)]);
    appendFileSync(segment(folder), Buffer.concat([Buffer.from('{"crc":"12'), Buffer.alloc(500)]));
    const { repaired, records } = open(folder);
    expect(records).toHaveLength(1);
    expect(repaired).toContain('its 510 bytes are no whole entry and were cut off');
    expect(repaired).toContain('kept as log-0001.ndjson.torn-1');
  });

  test('a second repair keeps a second copy', async () => {
    const folder = tempFolder();
    for (let time = 1; time <= 2; time += 1) {
      await fill(folder, [stop(1)]);
      appendFileSync(segment(folder), '{"crc":"');
      open(folder).log.close();
    }
    expect(readdirSync(folder)).toEqual(['log-0001.ndjson', 'log-0001.ndjson.torn-1', 'log-0001.ndjson.torn-2']);
  });
});

describe('damage', () => {
  test('every single bit flipped anywhere in a log is found, and opening changes nothing', async () => {
    const folder = tempFolder();
    await fill(folder, [stop(1), note('ü'), stop(3)]);
    const whole = readFileSync(segment(folder));
    for (let bit = 0; bit < whole.length * 8; bit += 1) {
      const changed = Buffer.from(whole);
      changed[bit >> 3] = (changed[bit >> 3] ?? 0) ^ (1 << (bit & 7));
      writeFileSync(segment(folder), changed);
      const opened = openRunLog(folder, () => undefined);
      expect(message(opened)).toMatch(/log-0001\.ndjson: line [123] \(byte \d+\): .*Nothing was changed/);
      expect(readdirSync(folder)).toEqual(['log-0001.ndjson']);
    }
    expect(readFileSync(segment(folder)).length).toBe(whole.length);
  });

  test('says where and what: changed, lost, doubled, foreign, missing segment', async () => {
    const folder = tempFolder();
    await fill(folder, [stop(1), stop(2), stop(3)]);
    const lines = readFileSync(segment(folder), 'utf8').trimEnd().split('\n');
    const length = (lines[0]?.length ?? 0) + 1;
    const told = (text: string): string => {
      writeFileSync(segment(folder), text);
      return message(read(folder).end).replace(folder, '');
    };
    const [one = '', two = '', three = ''] = lines;
    expect(told([one, two.replace('"web_m":2', '"web_m":5'), three, ''].join('\n'))).toBe(
      `/log-0001.ndjson: line 2 (byte ${length}): its checksum does not match: it was changed after it was written. Nothing was changed. Keep a copy of the run folder and restore this file from a backup, or go on with holdreg rescue; the entries before this line are sound`,
    );
    expect(told([one, three, ''].join('\n'))).toContain(
      'line 2 (byte 99): entry 2 should stand here, but it is entry 3: entries were lost, doubled or moved'.replace(
        '99',
        String(length),
      ),
    );
    expect(told([one, one, ''].join('\n'))).toContain('entry 2 should stand here, but it is entry 1');
    expect(told([one, '', two, ''].join('\n'))).toContain(
      'line 2 (byte 98): it does not begin as a log line'.replace('98', String(length)),
    );
    expect(told(`${one}\nhello`)).toContain('it is nothing that this program writes');
    expect(told(`${one}\n${two}\r\n`)).toContain('line 2');
    expect(read(folder).records).toHaveLength(1);
  });

  test('a torn line that later segments follow is no torn tail; a missing segment is named', async () => {
    const folder = tempFolder();
    await fill(
      folder,
      Array.from({ length: 12 }, (_, i) => stop(i)),
      { segmentBytes: 300 },
    );
    const saved = readFileSync(segment(folder, 2));
    truncateSync(segment(folder, 2), saved.length - 5);
    expect(message(read(folder).end)).toContain('it has no line end, though later segments follow');
    renameSync(segment(folder, 2), join(folder, 'elsewhere'));
    expect(message(read(folder).end)).toBe(
      `${segment(folder, 2)} is missing; restore it from a backup. Nothing was changed`,
    );
    copyFileSync(segment(folder, 1), segment(folder, 2));
    expect(message(read(folder).end)).toContain('entries were lost, doubled or moved');
  });

  test('a log of a newer program is refused with what to do', () => {
    const folder = tempFolder();
    writeFileSync(segment(folder), encodeFrame({ v: 3, seq: 1, ...head, ...stop(1) }));
    expect(message(read(folder).end)).toContain(
      'it was written by a newer holdregister (records of version 3; this one knows up to 2): use the newer program',
    );
  });

  test('a link in the place of a segment is refused', async () => {
    const folder = tempFolder();
    const other = tempFolder();
    await fill(other, [stop(1)]);
    symlinkSync(segment(other), segment(folder));
    expect(message(read(folder).end)).toContain('is not a plain file; links are not followed here');
  });
});

/** A disk with a faulty moment that the test sets. */
const faulty = () => {
  const state = { room: Number.POSITIVE_INFINITY, writeError: '', syncError: '', truncateError: '' };
  const thrown = (code: string): Error => Object.assign(new Error(code), { code });
  const disk: Disk = {
    ...realDisk,
    write: (fd, bytes, from) => {
      if (state.writeError !== '') throw thrown(state.writeError);
      if (state.room <= 0) throw thrown('ENOSPC');
      // A disk that is nearly full takes a part and says so.
      const part = bytes.subarray(0, Math.min(bytes.length, from + state.room));
      const count = realDisk.write(fd, part, from);
      state.room -= count;
      return count;
    },
    sync: (fd, done) =>
      state.syncError === '' ? realDisk.sync(fd, done) : setImmediate(() => done(thrown(state.syncError))),
    syncNow: (fd) => {
      if (state.syncError !== '') throw thrown(state.syncError);
      realDisk.syncNow(fd);
    },
    truncate: (fd, length) => {
      if (state.truncateError !== '') throw thrown(state.truncateError);
      realDisk.truncate(fd, length);
    },
  };
  return { state, disk };
};

describe('a disk in trouble', () => {
  const soundAfter = async (folder: string, log: RunLog, seqs: readonly number[]): Promise<void> => {
    value(await log.append(stop(99), head));
    value(log.close());
    const { records, end } = read(folder);
    expect(value(end).torn).toBeNull();
    expect(records.map(({ seq }) => seq)).toEqual(seqs);
    expect(records.at(-1)).toMatchObject({ type: 'stop', web_m: 99 });
  };

  test('full at every byte of a line: the append says so, nothing of it stays, the next one is sound', async () => {
    const length = encodeFrame({ v: 1, seq: 2, ...head, ...stop(2) }).length;
    for (let room = 0; room < length; room += 1) {
      const { state, disk } = faulty();
      const folder = tempFolder();
      const { log } = open(folder, { disk });
      value(await log.append(stop(1), head));
      state.room = room;
      expect(message(await log.append(stop(2), head))).toBe(
        `could not write ${segment(folder)}: the disk is full; free some space`,
      );
      expect(read(folder).records).toHaveLength(1);
      expect(log.lastSeq()).toBe(1);
      state.room = Number.POSITIVE_INFINITY;
      await soundAfter(folder, log, [1, 2]);
    }
  });

  test('full, and the half line cannot be cut off either: refuses until it can', async () => {
    const { state, disk } = faulty();
    const folder = tempFolder();
    const { log } = open(folder, { disk });
    value(await log.append(stop(1), head));
    state.room = 30;
    state.truncateError = 'EIO';
    expect(message(await log.append(stop(2), head))).toContain('the disk is full');
    state.room = Number.POSITIVE_INFINITY;
    expect(message(await log.append(stop(2), head))).toContain('could not cut a broken line off');
    state.truncateError = '';
    await soundAfter(folder, log, [1, 2]);
  });

  test.each([
    ['EROFS', 'the disk is read-only'],
    ['EIO', 'the disk reported an error'],
    ['ENOSPC', 'the disk is full'],
    ['EDQUOT', 'the disk quota is used up'],
  ])('%s while writing is told as "%s"', async (code, words) => {
    const { state, disk } = faulty();
    const folder = tempFolder();
    const { log } = open(folder, { disk });
    state.writeError = code;
    expect(message(await log.append(stop(1), head))).toContain(words);
    state.writeError = '';
    await soundAfter(folder, log, [1]);
  });

  test('a failed sync fails all that waited for it, and none of them stays in the log', async () => {
    const { state, disk } = faulty();
    const folder = tempFolder();
    const { log } = open(folder, { disk, soonMs: 5 });
    value(await log.append(stop(1), head));
    state.syncError = 'EIO';
    const results = await Promise.all([
      log.append(stop(2), head, 'soon'),
      log.append(stop(3), head, 'soon'),
      log.append(stop(4), head, 'now'),
    ]);
    expect(results.map((result) => result.ok)).toEqual([false, false, false]);
    expect(read(folder).records).toHaveLength(1);
    const late = log.append(stop(5), head, 'soon');
    expect(log.flush().ok).toBe(false);
    expect((await late).ok).toBe(false);
    state.syncError = '';
    await soundAfter(folder, log, [1, 2]);
  });

  test('the file removed, or written to by another program, while in use', async () => {
    const folder = tempFolder();
    const { log } = open(folder);
    value(await log.append(stop(1), head));
    appendFileSync(segment(folder), 'x');
    expect(message(await log.append(stop(2), head))).toContain('was changed by another program');
    truncateSync(segment(folder), readFileSync(segment(folder)).length - 1);
    value(await log.append(stop(2), head));
    rmSync(segment(folder));
    expect(message(await log.append(stop(3), head))).toContain('its folder is gone; put it back');
    expect(message(await log.append(stop(3), head))).toContain('its folder is gone');
  });

  test('the folder taken away and put back: refused meanwhile, then it goes on; a copy of it serves as well', async () => {
    const folder = tempFolder();
    const { log } = open(folder);
    value(await log.append(stop(1), head));
    value(await log.append(note('plum'), head));
    renameSync(folder, `${folder}-away`);
    expect(message(await log.append(stop(2), head))).toContain('its folder is gone');
    renameSync(`${folder}-away`, folder);
    value(await log.append(stop(3), head));
    cpSync(folder, `${folder}-copy`, { recursive: true });
    rmSync(folder, { recursive: true });
    renameSync(`${folder}-copy`, folder);
    await soundAfter(folder, log, [1, 2, 3, 4]);
  });

  test('another run of the same length in its place is not written to', async () => {
    const [folder, other] = [tempFolder(), tempFolder()];
    await fill(other, [stop(1), stop(7)]);
    const { log } = open(folder);
    value(await log.append(stop(1), head));
    value(await log.append(stop(2), head));
    renameSync(folder, `${folder}-away`);
    cpSync(other, folder, { recursive: true });
    const before = readFileSync(segment(folder));
    expect(message(await log.append(stop(3), head))).toContain('is not the file that was written here');
    expect(readFileSync(segment(folder))).toEqual(before);
    rmSync(folder, { recursive: true });
    renameSync(`${folder}-away`, folder);
    await soundAfter(folder, log, [1, 2, 3]);
  });

  test('a disk unplugged in the middle of a sync and plugged in again', async () => {
    const { state, disk } = faulty();
    const folder = tempFolder();
    const { log } = open(folder, { disk });
    value(await log.append(stop(1), head));
    state.syncError = 'EIO';
    state.truncateError = 'EIO';
    state.writeError = '';
    const failed = log.append(stop(2), head);
    renameSync(folder, `${folder}-away`);
    expect((await failed).ok).toBe(false);
    expect((await log.append(stop(2), head)).ok).toBe(false);
    renameSync(`${folder}-away`, folder);
    state.syncError = '';
    state.truncateError = '';
    await soundAfter(folder, log, [1, 2]);
  });

  test('no folder, no permission to make a segment', () => {
    const folder = join(tempFolder(), 'gone');
    expect(message(openRunLog(folder, () => undefined))).toBe(
      `could not read ${folder}: it is not there; check the name, or that the disk is still plugged in`,
    );
  });

  test('when a new segment cannot be begun, the old one grows on', async () => {
    const { disk } = faulty();
    const folder = tempFolder();
    const refusing: Disk = {
      ...disk,
      open: (path, create) => {
        if (path.endsWith('0002.ndjson')) throw Object.assign(new Error(), { code: 'ENOSPC' });
        return realDisk.open(path, create);
      },
    };
    await fill(
      folder,
      Array.from({ length: 9 }, (_, i) => stop(i)),
      { disk: refusing, segmentBytes: 200 },
    );
    expect(readdirSync(folder)).toEqual(['log-0001.ndjson']);
    expect(read(folder).records).toHaveLength(9);
  });
});
