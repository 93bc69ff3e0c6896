import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { readJob } from '../../src/core/job-file.js';
import { readPress } from '../../src/core/press-file.js';
import type { LogRecord, RecordBody } from '../../src/core/record.js';
import { begin, RULES } from '../../src/core/run/begin.js';
import type { RunState } from '../../src/core/run/state.js';
import { type RunDigest, runDigest } from '../../src/core/views/run-digest.js';
import { handoverHtml } from '../../src/report/handover-html.js';
import { historyText } from '../../src/report/history-report.js';
import { runReportHtml } from '../../src/report/run-report.js';
import { handoverOf } from '../../src/runtime/handover-of.js';
import { takeRecord } from '../../src/runtime/take-record.js';
import { encodeFrame } from '../../src/store/frame.js';
import { standsAt } from '../../src/store/log-mark.js';
import { readLog } from '../../src/store/read-log.js';
import { runsOf } from '../../src/store/run-folder.js';
import { openShop } from '../../src/store/shop.js';
import type { ShopData } from '../../src/store/shop-data.js';
import { seeded } from '../support/seeded.js';

/** Readings of the sensor run; the whole 24 hours with BENCH_READINGS=1000000. */
const READINGS = Number(process.env.BENCH_READINGS ?? 60_000);
const STATIONS = ['2', '3', '4', '5', 'D'];
const DATA = fileURLToPath(new URL('../../demo-data/', import.meta.url));

/** What the reports cost from real logs on disk, as ratios within this run: the lines to print. */
export async function benchReportFromDisk(): Promise<readonly string[]> {
  const data = mkdtempSync(join(tmpdir(), 'holdreg-bench-'));
  try {
    return [...shiftReport(data), ...(await history(data))];
  } finally {
    rmSync(data, { recursive: true, force: true });
  }
}

/** A day of a sensor: reading and folding the log, against the same with the report told, drawn and written. */
function shiftReport(data: string): readonly string[] {
  const folder = join(data, 'runs', 'sensor');
  writeRun(folder, 'sensor', Math.ceil(READINGS / STATIONS.length / 2));
  const at_ms = Date.UTC(2026, 2, 3, 6);
  const [folding, shift, whole] = [[] as number[], [] as number[], [] as number[]];
  for (let round = 0; round < ROUNDS; round += 1) {
    folding.push(ms(() => fold(folder)));
    shift.push(ms(() => handoverHtml(view(folder, at_ms))));
    whole.push(ms(() => runReportHtml(view(folder, at_ms))));
  }
  const [base, report, run] = [least(folding), least(shift), least(whole)];
  return [
    `report from disk, ${READINGS} readings of a sensor: handover with charts ${(report / base).toFixed(2)} x, run report ${(run / base).toFixed(2)} x reading and folding the log (asked: under 1.3 x)`,
  ];
}

const ROUNDS = READINGS > 200_000 ? 1 : 3;

/** 200 runs in the index: reading it, against all that `holdreg history` does once it is up to date. */
async function history(data: string): Promise<readonly string[]> {
  const source = join(data, 'runs', 'sensor');
  const first = runDigest(view(source, Date.UTC(2026, 2, 3, 6)));
  const runs = Array.from({ length: 200 }, (_, n) => `run-${String(n).padStart(3, '0')}`);
  const digests: Record<string, ShopData['digests'][string]> = {};
  for (const [n, run] of runs.entries()) {
    const folder = join(data, 'runs', run);
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, 'log-0001.ndjson'), 'x'.repeat(1_000 + n));
    digests[run] = {
      log: { segments: 1, last_bytes: 1_000 + n },
      digest: { ...first, run, movements: typical(n), turns: turnsOf(n), lives: livesOf(n) },
    };
  }
  const opened = await openShop(data);
  if (!opened.ok) throw new Error(opened.problem.message);
  const kept = await opened.value.shop.change((shop) => ({ ...shop, digests }), new Date());
  if (!kept.ok) throw new Error(kept.problem.message);
  const [reading, telling] = [[] as number[], [] as number[]];
  for (let round = 0; round < 40; round += 1) {
    const before = performance.now();
    await openShop(data);
    const read = performance.now();
    const shop = await openShop(data);
    if (!shop.ok) throw new Error(shop.problem.message);
    const known = shop.value.shop.data().digests;
    const all = runsOf(data);
    if (!all.ok) throw new Error(all.problem.message);
    const current = all.value.flatMap((run) => {
      const one = known[run];
      return one !== undefined && standsAt(data, run, one.log) ? [one.digest] : [];
    });
    if (current.length !== 200) throw new Error(`${current.length} runs are up to date`);
    historyText(current);
    reading.push(read - before);
    telling.push(performance.now() - read);
  }
  return [
    `history over 200 runs: ${(least(telling) / least(reading)).toFixed(2)} x reading the index, with the length of every log looked up and all of it put into words (asked: under 2 x)`,
  ];
}

const typical = (n: number): RunDigest['movements'] =>
  Array.from({ length: 8 }, (_, i) => ({
    cause: i % 4 === 0 ? ('web' as const) : ('station' as const),
    stations: i % 4 === 0 ? [] : [STATIONS[(n + i) % 5] ?? '2'],
    axis: i % 2 === 0 ? ('along' as const) : ('across' as const),
    shape: i % 3 === 0 ? ('ramp' as const) : ('step' as const),
    out: i % 5 === 0,
    since_m: 1_000 * i,
  }));

const livesOf = (n: number): RunDigest['lives'] =>
  STATIONS.flatMap((station, i) => [
    { station, from_m: 8_000 + 37 * n + i, to_m: 9_500 + 37 * n + i },
    { station, from_m: 6_000 + 11 * n, to_m: null },
  ]);

const turnsOf = (n: number): RunDigest['turns'] =>
  Array.from({ length: 6 }, (_, i) => ({
    station: STATIONS[(n + i) % 5] ?? '2',
    axis: 'along' as const,
    asked_mm: i % 2 === 0 ? 0.1 : -0.15,
    got_mm: i % 2 === 0 ? 0.09 : -0.12,
  }));

function writeRun(folder: string, run: string, checks: number): void {
  mkdirSync(folder, { recursive: true });
  const press = readPress(readFileSync(join(DATA, 'press.json'), 'utf8'), 'press.json');
  if (!press.ok) throw new Error(press.problem.message);
  const job = readJob(readFileSync(join(DATA, 'job.json'), 'utf8'), 'job.json', press.value);
  if (!job.ok) throw new Error(job.problem.message);
  const random = seeded(8);
  const began = Date.UTC(2026, 2, 2, 6);
  const frames: Buffer[] = [];
  let seq = 0;
  const put = (body: RecordBody, at_ms: number, by: string): void => {
    const record: LogRecord = { v: 1, seq: ++seq, at: new Date(at_ms).toISOString(), by, ...body };
    frames.push(encodeFrame(record));
  };
  const first = { press: press.value, job: job.value, rules: RULES, program: 'bench', time_zone: 'UTC' };
  put({ type: 'begin', run, ...first }, began, 'program');
  put({ type: 'ok', web_m: 0, zero_m: null, passed_by: 'MK', check: null, hold_to: 'aim' }, began, 'MK');
  const every_ms = 86_400_000 / checks;
  const every_m = 160_000 / checks;
  const mm = (from: number): number => Math.round((from + 0.02 * random.normal()) * 1e4) / 1e4;
  for (let check = 1; check <= checks; check += 1) {
    const web_m = Math.round(check * every_m * 100) / 100;
    const at = began + check * every_ms;
    if (Math.floor(web_m / 1_500) > Math.floor((web_m - every_m) / 1_500))
      put({ type: 'finished', web_m, roll: String(Math.floor(web_m / 1_500)) }, at, 'MK');
    const drift = 0.05 * Math.sin((6 * check) / checks);
    const readings = STATIONS.map((station) => ({
      station,
      along_mm: mm(station === '4' ? drift : 0),
      across_mm: mm(0),
      look: null,
      edge: null,
      plate: null,
      flaws: null,
      labels: null,
      n: 8,
      spread_mm: { along: 0.02, across: 0.02 },
      strength: 0.9,
    }));
    put(
      { type: 'check', check, web_m, roll: null, pulled_at: null, source: 'sensor', place: null, readings },
      at,
      'sensor',
    );
  }
  writeFileSync(join(folder, 'log-0001.ndjson'), Buffer.concat(frames));
}

/** What merely opening the run without a checkpoint costs. */
function fold(folder: string): RunState {
  let state: RunState | null = null;
  const read = readLog(folder, (record) => {
    if (state !== null) state = takeRecord(folder, state, record).state;
    else {
      const begun = begin(record);
      if (begun.ok) state = begun.value;
    }
  });
  if (!read.ok) throw new Error(read.problem.message);
  if (state === null) throw new Error('no run');
  return state;
}

function view(folder: string, at_ms: number) {
  const told = handoverOf(folder, at_ms, { since: null });
  if (!told.ok) throw new Error(told.problem.message);
  return told.value;
}

/** Milliseconds of the processor, so that whatever else runs on the machine does not count. */
function ms(work: () => unknown): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}

const least = (times: readonly number[]): number => Math.min(...times);
