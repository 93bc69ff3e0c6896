import type * as Fs from 'node:fs';
import { mkdirSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import type { LogRecord, RecordBody } from '../../src/core/record.js';
import type { Result } from '../../src/core/result.js';
import { saveDrafts } from '../../src/store/drafts.js';
import { jsonFile } from '../../src/store/json-file.js';
import { readLog } from '../../src/store/read-log.js';
import { repairTail } from '../../src/store/repair.js';
import { openRunLog } from '../../src/store/run-log.js';
import { stageRun } from '../../src/store/stage-run.js';
import { writeSegment } from '../../src/store/whole-segment.js';
import { tempFolder } from './temp-folder.js';

/** What was done to the disk, in order: what it was, and to which file or folder. */
const trace: string[] = vi.hoisted(() => []);

// The real disk, watched. A name that a power cut must not lose is synced as an entry of its folder, after its bytes.
vi.mock('node:fs', async (original) => {
  const fs = await original<typeof Fs>();
  const open = new Map<number, string>();
  const last = (path: unknown): string => String(path).split('/').at(-1) ?? '';
  const of = (fd: number): string => open.get(fd) ?? `${fd}`;
  const watched = {
    openSync: (...given: Parameters<typeof fs.openSync>) => {
      const fd = fs.openSync(...given);
      open.set(fd, last(given[0]));
      return fd;
    },
    writeSync: (fd: number, ...rest: [Buffer, number?, number?]) => {
      trace.push(`write ${of(fd)}`);
      return fs.writeSync(fd, ...rest);
    },
    fsyncSync: (fd: number) => {
      trace.push(`sync ${of(fd)}`);
      fs.fsyncSync(fd);
    },
    fdatasyncSync: (fd: number) => {
      trace.push(`sync ${of(fd)}`);
      fs.fdatasyncSync(fd);
    },
    fdatasync: (fd: number, done: (error: Error | null) => void) => {
      fs.fdatasync(fd, (error) => {
        trace.push(`sync ${of(fd)}`);
        done(error);
      });
    },
    ftruncateSync: (fd: number, length: number) => {
      trace.push(`cut ${of(fd)}`);
      fs.ftruncateSync(fd, length);
    },
    renameSync: (from: string, to: string) => {
      trace.push(`rename ${last(from)} ${last(to)}`);
      fs.renameSync(from, to);
    },
    copyFileSync: (from: string, to: string, mode?: number) => {
      trace.push(`copy ${last(from)} ${last(to)}`);
      fs.copyFileSync(from, to, mode);
    },
  };
  return { ...fs, ...watched, default: { ...fs, ...watched } };
});

const value = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(result.problem.message);
  return result.value;
};
const head = { at: '2026-03-02T09:14:05.120Z', by: 'MK' };
const stop = (web_m: number): RecordBody => ({ type: 'stop', web_m });
const record = (seq: number): LogRecord => ({ v: 2, seq, ...head, ...stop(100 * seq) });

let folder = '';
beforeEach(() => {
  folder = tempFolder();
  trace.length = 0;
});

describe('what a power cut may not take: written, synced, named', () => {
  test('a new log: its name is on disk before anything is written to it; an entry is told when it is synced', async () => {
    const { log } = value(openRunLog(folder, () => undefined));
    const told = log.append(stop(100), head).then((result) => {
      trace.push(result.ok ? 'told' : 'refused');
    });
    await told;
    expect(trace).toEqual([`sync ${basename(folder)}`, 'write log-0001.ndjson', 'sync log-0001.ndjson', 'told']);
    trace.length = 0;
    value(await log.append(stop(200), head));
    expect(trace).toEqual(['write log-0001.ndjson', 'sync log-0001.ndjson']);
    value(log.close());
  });

  test('closing with an entry under way: synced before it is closed', async () => {
    const { log } = value(openRunLog(folder, () => undefined, { soonMs: 60_000 }));
    value(await log.append(stop(100), head));
    trace.length = 0;
    void log.append(stop(200), head, 'soon');
    value(log.close());
    expect(trace.filter((one) => /write|sync/.test(one)).at(-1)).toBe('sync log-0001.ndjson');
    expect(trace).toContain('write log-0001.ndjson');
  });

  test('a segment that is imported whole', () => {
    value(writeSegment(folder, 1, [record(1), record(2)]));
    expect(trace).toEqual([
      'write log-0001.ndjson.new',
      'sync log-0001.ndjson.new',
      'rename log-0001.ndjson.new log-0001.ndjson',
      `sync ${basename(folder)}`,
    ]);
  });

  test('a new run: its own folder before it has its name, the folder of runs after', () => {
    mkdirSync(join(folder, 'runs'));
    const staged = value(stageRun(folder, 'r1'));
    value(writeSegment(staged.folder, 1, [record(1)]));
    trace.length = 0;
    value(staged.publish());
    const name = basename(staged.folder);
    expect(trace).toEqual([`sync ${name}`, `rename ${name} r1`, 'sync runs']);
  });

  test('the shop file', async () => {
    const path = join(folder, 'shop.json');
    const adapter = jsonFile(path);
    await adapter.write({ runs: [] });
    const beside = `shop.json.${process.pid}.new`;
    expect(trace).toEqual([
      `write ${beside}`,
      `sync ${beside}`,
      `rename ${beside} shop.json`,
      `sync ${basename(folder)}`,
    ]);
  });

  test('half-keyed checks', () => {
    value(saveDrafts(folder, '{}'));
    expect(trace).toEqual(['write drafts.json.new', 'sync drafts.json.new', 'rename drafts.json.new drafts.json']);
  });

  test('a torn tail: the copy as found, bytes and name, is on disk before anything is cut off', () => {
    value(writeSegment(folder, 1, [record(1), record(2)]));
    const path = join(folder, 'log-0001.ndjson');
    truncateSync(path, readFileSync(path).length - 20);
    const { torn } = value(readLog(folder, () => undefined));
    if (torn === null) throw new Error('not torn');
    trace.length = 0;
    value(repairTail(torn));
    expect(trace).toEqual([
      'copy log-0001.ndjson log-0001.ndjson.torn-1',
      'sync log-0001.ndjson.torn-1',
      `sync ${basename(folder)}`,
      'cut log-0001.ndjson',
      'sync log-0001.ndjson',
    ]);
  });

  test('an entry without its line end: the end is written and synced, nothing is cut', () => {
    value(writeSegment(folder, 1, [record(1), record(2)]));
    const path = join(folder, 'log-0001.ndjson');
    truncateSync(path, readFileSync(path).length - 1);
    const { torn } = value(readLog(folder, () => undefined));
    if (torn === null) throw new Error('not torn');
    trace.length = 0;
    value(repairTail(torn));
    expect(trace.slice(-2)).toEqual(['write log-0001.ndjson', 'sync log-0001.ndjson']);
    expect(trace).not.toContain('cut log-0001.ndjson');
    writeFileSync(join(folder, 'read'), '');
    expect(value(readLog(folder, () => undefined)).torn).toBeNull();
  });
});
