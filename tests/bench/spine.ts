import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { LogRecord } from '../../src/core/record.js';
import { apply } from '../../src/core/run/apply.js';
import { begin } from '../../src/core/run/begin.js';
import { readLog } from '../../src/store/read-log.js';
import { openRunLog } from '../../src/store/run-log.js';
import { seeded } from '../support/seeded.js';
import { tryRun } from '../support/try-run.js';

const CLI = fileURLToPath(new URL('../../dist/cli.js', import.meta.url));
const ROUNDS = 5;

/** Ratios of the Spine, each against its baseline in the same run; medians of five rounds taken in turn. */
export const benchSpine = async (): Promise<string[]> => [
  'SPINE (ratios, medians of 5 rounds in turn)',
  fold(),
  startUp(),
  await opening(),
];

const fold = (): string => {
  const lines = checks(2000).map((r) => JSON.stringify(r));
  const parse = (): void => {
    for (const line of lines) JSON.parse(line);
  };
  const through = (): void => {
    const records = lines.map((line) => JSON.parse(line) as LogRecord);
    const first = records[0];
    const begun = first === undefined ? null : begin(first);
    if (begun === null || !begun.ok) throw new Error('no run');
    let state = begun.value;
    for (const record of records.slice(1)) state = apply(state, record).state;
  };
  const [ratio, slow_ms] = inTurn(through, parse);
  const readings = 2000 * 8;
  return `readings through the whole fold against the same merely parsed: ${ratio.toFixed(0)} x as long (${Math.round(readings / (slow_ms / 1000))} readings/s; 4 stations x 2 axes a check)`;
};

const startUp = (): string => {
  const run = (args: readonly string[]) => (): void => {
    execFileSync(process.execPath, [...args], { stdio: 'ignore' });
  };
  const [ratio, ms] = inTurn(run([CLI, '--version']), run(['-e', '0']));
  return `start-up of holdreg --version against node -e 0: ${ratio.toFixed(2)} x (${ms.toFixed(0)} ms)`;
};

const opening = async (): Promise<string> => {
  const folder = mkdtempSync(join(tmpdir(), 'holdreg-bench-'));
  try {
    const opened = openRunLog(folder, () => {});
    if (!opened.ok) throw new Error(opened.problem.message);
    const { log } = opened.value;
    const records = checks(1000);
    const pending: Promise<unknown>[] = [];
    for (let i = 0; i < 100_000; i++) {
      const {
        v: _v,
        seq: _seq,
        at,
        by,
        ...body
      } = records[1 + (i % (records.length - 1))] ?? (records[0] as LogRecord);
      pending.push(log.append(body as never, { at, by }, 'soon'));
      if (pending.length >= 5000) await Promise.all(pending.splice(0));
    }
    await Promise.all(pending);
    log.close();
    const files = readdirSync(folder).filter((f) => f.endsWith('.ndjson'));
    const bytes = (): void => {
      for (const file of files) readFileSync(join(folder, file));
    };
    const parsed = (): void => {
      for (const file of files)
        for (const line of readFileSync(join(folder, file), 'utf8').split('\n')) if (line !== '') JSON.parse(line);
    };
    const read = (): void => {
      const end = readLog(folder, () => {});
      if (!end.ok) throw new Error(end.problem.message);
    };
    const [toBytes, ms] = inTurn(read, bytes, 3);
    const [toParsed] = inTurn(read, parsed, 3);
    return `opening a run of 100,000 records: ${toBytes.toFixed(0)} x reading its bytes, ${toParsed.toFixed(2)} x reading and parsing them (${ms.toFixed(0)} ms)`;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

/** A run of keyed checks, four stations and both axes each. */
const checks = (n: number): readonly LogRecord[] => {
  const random = seeded(1);
  const run = tryRun();
  for (let i = 1; i <= n; i++)
    run.check(
      i,
      i * 500,
      Object.fromEntries(
        ['2', '3', '4', 'D'].map((id) => [id, [0.04 * random.normal(), 0.04 * random.normal()] as const]),
      ),
    );
  return run.records;
};

/** Median ratio of one against another, taken in turn; and the median time of the first, ms. */
const inTurn = (slow: () => void, fast: () => void, rounds = ROUNDS): readonly [number, number] => {
  const time = (work: () => void): number => {
    const from = performance.now();
    work();
    return performance.now() - from;
  };
  slow();
  fast();
  const pairs = Array.from({ length: rounds }, () => [time(slow), time(fast)] as const);
  return [median(pairs.map(([a, b]) => a / b)), median(pairs.map(([a]) => a))];
};

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
