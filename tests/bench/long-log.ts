import { spawnSync } from 'node:child_process';
import { closeSync, mkdirSync, mkdtempSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { LogRecord, RecordBody } from '../../src/core/record.js';
import { encodeChained } from '../../src/store/frame.js';
import { CHAIN_ZERO, nextLink } from '../../src/store/record-chain.js';
import { seeded } from '../support/seeded.js';
import { tryRun } from '../support/try-run.js';
import { checkBody } from '../torture/open-test-run.js';

const CLI = fileURLToPath(new URL('../../dist/cli.js', import.meta.url));
const READ_LOG = new URL('../../dist/store/read-log.js', import.meta.url).href;
const OPEN_STATE = new URL('../../dist/runtime/open-state.js', import.meta.url).href;
/** The whole million with BENCH_RECORDS=1000000. */
const RECORDS = Number(process.env.BENCH_RECORDS ?? 200_000);

/**
 * What a very long run costs, each in a process of its own, against reading and parsing its log in another: looks at the counter, and a check of four stations
 * in every `every` entries.
 */
export const benchLongLog = (): readonly string[] => [2000, 10].flatMap(ofRun);

const ofRun = (every: number): readonly string[] => {
  const data = mkdtempSync(join(tmpdir(), 'holdreg-bench-'));
  try {
    const folder = writeRun(data, every);
    const modules = { [READ_LOG]: 'readLog', [OPEN_STATE]: 'openState' };
    const script = (url: string, call: string): readonly string[] => [
      '--input-type=module',
      '-e',
      `import { ${modules[url]} } from ${JSON.stringify(url)}; if (!${call}.ok) process.exitCode = 1;`,
    ];
    const parsed = spent(script(READ_LOG, `readLog(${JSON.stringify(folder)}, () => {})`));
    const opened = spent(script(OPEN_STATE, `openState(${JSON.stringify(folder)}, 'look')`));
    const cli = (...args: readonly string[]): Spent => spent([CLI, ...args, '--data', data]);
    const rows: readonly (readonly [string, Spent, string])[] = [
      ['opened without a checkpoint', opened, ''],
      ['handover, the first', cli('handover'), ''],
      ['handover, the next', cli('handover'), ''],
      ['CSV', cli('export'), ' (asked: at most 150 MB)'],
    ];
    return rows.map(
      ([what, { seconds, mb }, asked]) =>
        `${RECORDS} entries, one check in ${every}, ${what}: ${(seconds / parsed.seconds).toFixed(1)} x reading and parsing the log (${seconds.toFixed(1)} s of the processor), at most ${mb} MB against ${parsed.mb}${asked}`,
    );
  } finally {
    rmSync(data, { recursive: true, force: true });
  }
};

type Spent = { readonly seconds: number; readonly mb: number };

/** Processor time and the most memory of a node process. */
const spent = (args: readonly string[]): Spent => {
  const room = mkdtempSync(join(tmpdir(), 'holdreg-bench-'));
  const file = join(room, 'spent.json');
  const atEnd = `import { writeFileSync } from 'node:fs'; process.on('exit', () => writeFileSync(${JSON.stringify(file)}, JSON.stringify(process.resourceUsage())));`;
  const done = spawnSync(process.execPath, ['--import', `data:text/javascript,${encodeURIComponent(atEnd)}`, ...args], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  if (done.status !== 0) throw new Error(`${args.join(' ')}: ${done.status}`);
  const { userCPUTime, systemCPUTime, maxRSS }: NodeJS.ResourceUsage = JSON.parse(readFileSync(file, 'utf8'));
  rmSync(room, { recursive: true });
  return { seconds: (userCPUTime + systemCPUTime) / 1e6, mb: Math.round(maxRSS / 1024) };
};

/** In segments, as the program writes them. */
const writeRun = (data: string, every: number): string => {
  const folder = join(data, 'runs', 'r1');
  mkdirSync(folder, { recursive: true });
  const random = seeded(6);
  let chain = CHAIN_ZERO;
  let seq = 0;
  let segment = 0;
  let fd = -1;
  let bytes = Infinity;
  const put = (record: Omit<LogRecord, 'seq'>): void => {
    if (bytes >= 1 << 24) {
      if (fd >= 0) closeSync(fd);
      segment += 1;
      fd = openSync(join(folder, `log-${String(segment).padStart(4, '0')}.ndjson`), 'wx', 0o600);
      bytes = 0;
    }
    seq += 1;
    const frame = encodeChained({ ...record, v: 2, seq } as LogRecord, chain);
    chain = nextLink(chain, frame);
    writeSync(fd, frame);
    bytes += frame.length;
  };
  for (const record of tryRun().records) put(record);
  for (let i = 0, checks = 0; seq < RECORDS; i += 1) {
    const isCheck = i % every === 0;
    if (isCheck) checks += 1;
    const body: RecordBody = isCheck ? checkBody(checks, i, random, 'sensor') : { type: 'position', web_m: i };
    put({ v: 2, at: new Date(1.772e12 + i * 2000).toISOString(), by: isCheck ? 'sensor' : 'MK', ...body });
  }
  closeSync(fd);
  return folder;
};
