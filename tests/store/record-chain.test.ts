import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import CRC32 from 'crc-32';
import { describe, expect, test } from 'vitest';
import type { LogRecord } from '../../src/core/record.js';
import { encodeFrame } from '../../src/store/frame.js';
import { CHAIN_ZERO, chainRefusal, readChain } from '../../src/store/record-chain.js';
import { openRunLog } from '../../src/store/run-log.js';

const head = { at: '2026-03-02T09:14:05.120Z', by: 'MK' };
const newFolder = (): string => mkdtempSync(join(tmpdir(), 'chain-'));

const written = async (folder: string, count: number, segmentBytes?: number): Promise<readonly LogRecord[]> => {
  const seen: LogRecord[] = [];
  const opened = openRunLog(folder, (r) => seen.push(r), segmentBytes === undefined ? {} : { segmentBytes });
  if (!opened.ok) throw new Error(opened.problem.message);
  for (let i = 0; i < count; i += 1) {
    const wrote = await opened.value.log.append({ type: 'stop', web_m: i }, head);
    if (!wrote.ok) throw new Error(wrote.problem.message);
    seen.push(wrote.value);
  }
  opened.value.log.close();
  return seen;
};
const chain = (folder: string, wanted: readonly number[] = []) => {
  const read = readChain(folder, new Set(wanted));
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
};
/** A line changed by somebody who knows the format: its CRC is put right. */
const forge = (file: string, line: number, from: string, to: string): void => {
  const lines = readFileSync(file, 'utf8').split('\n');
  const body = (lines[line - 1] ?? '').replace(from, to).slice(18);
  const crc = (CRC32.str(body) >>> 0).toString(16).padStart(8, '0');
  lines[line - 1] = `{"crc":"${crc}",${body}`;
  writeFileSync(file, lines.join('\n'));
};

describe('the chain of records', () => {
  test('by hand: SHA-256 of the link before and of the line, from 64 zeros on, through segments and openings', async () => {
    const folder = newFolder();
    await written(folder, 3, 300);
    await written(folder, 3, 300);
    const lines = ['0001', '0002', '0003', '0004']
      .flatMap((n) => {
        try {
          return readFileSync(join(folder, `log-${n}.ndjson`), 'utf8').split('\n');
        } catch {
          return [];
        }
      })
      .filter((line) => line !== '');
    let link = CHAIN_ZERO;
    for (const line of lines) {
      expect(JSON.parse(line).chain).toBe(link);
      link = createHash('sha256').update(`${link}${line}\n`).digest('hex');
    }
    expect(lines).toHaveLength(6);
    expect(chain(folder)).toMatchObject({ entries: 6, head: link, unchained: 0, broken: null });
  });

  test('a record read back is the record that was written, without its link', async () => {
    const folder = newFolder();
    const wrote = await written(folder, 2);
    const back: LogRecord[] = [];
    const opened = openRunLog(folder, (r) => back.push(r));
    expect(opened.ok && opened.value.log.close().ok).toBe(true);
    expect(back).toEqual(wrote);
  });

  test('two readings changed with their CRC put right: the first broken link is named', async () => {
    const folder = newFolder();
    await written(folder, 6);
    const file = join(folder, 'log-0001.ndjson');
    forge(file, 2, '"web_m":1', '"web_m":7');
    forge(file, 4, '"web_m":3', '"web_m":7');
    const opened = openRunLog(folder, () => undefined);
    expect(opened.ok && opened.value.log.close().ok).toBe(true);
    expect(chain(folder).broken).toEqual({ seq: 3, file, line: 3 });
  });

  test('the last entry changed, or entries taken away: no link breaks, but a seal does', async () => {
    const folder = newFolder();
    await written(folder, 4);
    const { entries, head: sealed } = chain(folder);
    const file = join(folder, 'log-0001.ndjson');
    const whole = readFileSync(file, 'utf8');
    expect(chainRefusal(chain(folder), { entries, head: sealed })).toBeNull();
    forge(file, 4, '"web_m":3', '"web_m":7');
    expect(chain(folder).broken).toBeNull();
    expect(chainRefusal(chain(folder), { entries, head: sealed })).toMatch(/are not those that were sealed/);
    writeFileSync(file, `${whole.split('\n').slice(0, 3).join('\n')}\n`);
    expect(chainRefusal(chain(folder), { entries, head: sealed })).toMatch(/only 3: entries were taken away/);
  });

  test('the run going on does not break an earlier seal', async () => {
    const folder = newFolder();
    await written(folder, 4);
    const seal = chain(folder);
    await written(folder, 3);
    expect(chainRefusal(chain(folder, [seal.entries]), seal)).toBeNull();
  });

  test('a log of an older program stays readable; its lines are chained from the first new one on', async () => {
    const folder = newFolder();
    const file = join(folder, 'log-0001.ndjson');
    writeFileSync(
      file,
      Buffer.concat([1, 2].map((seq) => encodeFrame({ v: 1, seq, ...head, type: 'stop', web_m: seq }))),
    );
    expect(await written(folder, 2)).toHaveLength(4);
    expect(chain(folder)).toMatchObject({ entries: 4, unchained: 2, broken: null });
    forge(file, 1, '"web_m":1', '"web_m":9');
    expect(chain(folder).broken).toMatchObject({ seq: 3 });
  });
});
