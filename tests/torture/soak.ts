import { spawnSync } from 'node:child_process';
import { closeSync, openSync, rmSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { checkOfGathered } from '../../src/core/check-of-gathered.js';
import type { LogRecord, RecordBody } from '../../src/core/record.js';
import type { RunState } from '../../src/core/run/state.js';
import { gatherConfig, sensorGather } from '../../src/core/sensor-gather.js';
import { takeRecord } from '../../src/runtime/take-record.js';
import { CHAIN_START, chainTo } from '../../src/store/byte-chain.js';
import { writeCheckpoint } from '../../src/store/checkpoint.js';
import { encodeFrame } from '../../src/store/frame.js';
import { programMark } from '../../src/store/program-mark.js';
import { drawFrame } from '../../src/ui/frame.js';
import { initialScreen } from '../../src/ui/screen.js';
import { reading } from '../support/reading.js';
import { seeded } from '../support/seeded.js';
import { foldFromScratch } from './ledger.js';
import { newFolder, openTestRun } from './open-test-run.js';

/*
 * The long form: npm run soak -- [HOURS] [RECORDS]
 * 1. HOURS (12) of a run on a fast clock: sixteen stations, 25 repeats a second, gathered, judged, on a real disk, drawn ten times a second of checks.
 * 2. A run of RECORDS (10 000 000) entries: opened with and without its checkpoint by a process with little memory.
 */

const [hours = 12, count = 10_000_000] = process.argv.slice(2).map(Number);
const say = (what: string, value: string): void => void process.stdout.write(`${what.padEnd(58)}${value}\n`);
const gc = (): void => {
  const collect: unknown = Reflect.get(globalThis, 'gc');
  if (typeof collect === 'function') collect();
};
const heapMb = (): number => {
  gc();
  gc();
  return process.memoryUsage().heapUsed / 1e6;
};

const STATIONS = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '10', '11', '12', '13', '14', '15', '16'];

/** Hours of sensor at 25 repeats a second, then ten minutes of bursts ten times as fast. */
const soak = async (): Promise<boolean> => {
  const folder = newFolder();
  const press = { stations: STATIONS.map((id, i) => ({ id, kind: 'print', at_m: 1.5 + i })), sample_m: 25 };
  const job = {
    stations: STATIONS.map((id) => ({ id })),
    tolerance: { print: { along_mm: 0.15, across_mm: 0.15 } },
  };
  let wall = 1_772_000_000_000;
  const run = await openTestRun(folder, { now: () => wall, press, job });
  const random = seeded(8);
  // Drawn beforehand: what is measured is the taking, not the making.
  const noise = Float64Array.from({ length: 1 << 16 }, () => Math.round(20 * random.normal()) / 1000);
  let at = 0;
  const draw = (): number => {
    at = (at + 1) & 0xffff;
    return noise[at] ?? 0;
  };
  const config = gatherConfig({}, STATIONS);
  let gathering = sensorGather.initial(config);
  let web_m = 0;
  let repeats = 0;
  let windows = 0;
  let refused = 0;
  const rows: { hour: number; heap: number; msPerCheck: number }[] = [];
  const pending = new Set<Promise<unknown>>();
  const repeat = (everyMs: number): void => {
    wall += everyMs;
    web_m += 0.3;
    repeats += 1;
    const readings = STATIONS.slice(1).map((station) => ({
      station,
      along_mm: draw(),
      across_mm: draw(),
      strength: 0.8,
      width_mm: null,
    }));
    const stepped = sensorGather.step(config, gathering, { readings, at_ms: wall, web_m });
    gathering = stepped.state;
    for (const gathered of stepped.gathered) {
      windows += 1;
      const wrote = run
        .submit(
          (s) =>
            checkOfGathered(gathered, { check: s.next_check, roll: null, place: null }) ?? {
              type: 'note',
              web_m,
              text: '',
            },
          { by: 'sensor', soon: true, keep: true },
        )
        .then((one) => {
          pending.delete(wrote);
          if (!one.ok) refused += 1;
        });
      pending.add(wrote);
    }
  };
  const look = { ascii: false, color: true, decimal: '.' } as const;
  let frames = 0;
  const frame = (): void => {
    frames += 1;
    drawFrame({
      view: run.board(),
      screen: initialScreen(wall, true),
      chart: (station, axis, window) => run.chart(station, axis, window),
      columns: 120,
      rows: 40,
      look,
      clock: '12:00',
      nowMs: wall,
      operator: 'MK',
      readOnly: null,
    });
  };
  const began = performance.now();
  const stretch = async (n: number, everyMs: number): Promise<number> => {
    const from = performance.now();
    const before = windows;
    for (let i = 0; i < n; i += 1) {
      repeat(everyMs);
      // Fifty repeats are a check; the disk gets its turn, as it would in two seconds.
      if (i % 500 === 499) {
        await Promise.all(pending);
        frame();
      }
    }
    await Promise.all(pending);
    return (performance.now() - from) / Math.max(1, windows - before);
  };
  for (let hour = 1; hour <= Math.ceil(hours); hour += 1) {
    const msPerCheck = await stretch(25 * 3600 * Math.min(1, hours), 40);
    rows.push({ hour, heap: heapMb(), msPerCheck });
  }
  const steadySeconds = (performance.now() - began) / 1000;
  const burstFrom = performance.now();
  await stretch(250 * 600, 4);
  const burstSeconds = (performance.now() - burstFrom) / 1000;
  const first = rows[Math.min(1, rows.length - 1)];
  const last = rows.at(-1);
  const made = run.state().judged.checks.made;
  const unsaved = await run.close();
  const state = JSON.stringify(run.state());
  const scratchFrom = performance.now();
  const same = hours > 3 ? null : state === JSON.stringify(foldFromScratch(folder));
  const opened = await openTestRun(folder, { now: () => wall, press, job, lookOnly: true });
  const reopened = JSON.stringify(opened.state()) === state;
  await opened.close();
  rmSync(folder, { recursive: true });
  if (first === undefined || last === undefined) return false;
  say('stations, axes, repeats a second', `16 x 2 x 25 = 800 readings/s`);
  say('simulated', `${hours} h, then 10 min at ten times that (8 000/s)`);
  say('repeats; checks made of them; on disk', `${repeats}; ${windows}; ${made}`);
  say('lost (refused; never written; missing)', `${refused}; ${unsaved}; ${windows - made}`);
  say(
    'wall time against simulated time, steady',
    `${(steadySeconds / (hours * 3600)).toFixed(4)} (${Math.round(steadySeconds)} s)`,
  );
  say('wall time against simulated time, bursts', `${(burstSeconds / 600).toFixed(4)}`);
  say('heap after collection, MB, by hour', rows.map((r) => r.heap.toFixed(1)).join(' '));
  say('frames drawn', String(frames));
  say('cost of a check, last hour against second', `${(last.msPerCheck / first.msPerCheck).toFixed(2)} x`);
  say('state after opening again, from the checkpoint', reopened ? 'the same' : 'DIFFERENT');
  if (same !== null)
    say(
      'state folded from scratch',
      `${same ? 'the same' : 'DIFFERENT'} (${Math.round((performance.now() - scratchFrom) / 1000)} s)`,
    );
  return refused === 0 && unsaved === 0 && windows === made && reopened && same !== false;
};

/** A log of very many entries, written segment by segment as the program would, and its checkpoint. */
const manyRecords = async (): Promise<boolean> => {
  const folder = newFolder();
  const run = await openTestRun(folder);
  await run.close();
  let state: RunState = run.state();
  const random = seeded(4);
  const from = performance.now();
  let segment = 0;
  let fd = -1;
  let bytes = 0;
  let lines = 0;
  let held: Buffer[] = [];
  let heldBytes = 0;
  const flush = (): void => {
    if (held.length > 0) writeSync(fd, Buffer.concat(held));
    held = [];
    heldBytes = 0;
  };
  const costs: number[] = [];
  let mark = performance.now();
  segment = 2;
  fd = openSync(join(folder, 'log-0002.ndjson'), 'wx', 0o600);
  while (state.seq < count) {
    const i = state.seq;
    const body: RecordBody =
      i % 2000 === 0
        ? {
            type: 'check',
            check: state.next_check,
            web_m: i,
            roll: null,
            pulled_at: null,
            source: 'sensor',
            place: null,
            readings: ['2', '3', '4', 'D'].map((station) =>
              reading(station, { along_mm: 0.02 * random.normal(), across_mm: 0.02 * random.normal() }),
            ),
          }
        : { type: 'position', web_m: i };
    const record: LogRecord = { v: 1, seq: i + 1, at: new Date(1.772e12 + i * 100).toISOString(), by: 'MK', ...body };
    state = takeRecord(folder, state, record).state;
    const frame = encodeFrame(record);
    held.push(frame);
    heldBytes += frame.length;
    bytes += frame.length;
    lines += 1;
    if (heldBytes > 1 << 20) flush();
    if (bytes > 1 << 24 && state.seq < count) {
      flush();
      closeSync(fd);
      segment += 1;
      bytes = 0;
      lines = 0;
      fd = openSync(join(folder, `log-${String(segment).padStart(4, '0')}.ndjson`), 'wx', 0o600);
    }
    if (state.seq % (count / 10) === 0) {
      costs.push(performance.now() - mark);
      mark = performance.now();
    }
  }
  flush();
  closeSync(fd);
  say(
    'entries written and judged',
    `${state.seq} in ${segment} segments, ${Math.round((performance.now() - from) / 1000)} s`,
  );
  say('cost of an entry, last tenth against second', `${((costs.at(-1) ?? NaN) / (costs[1] ?? NaN)).toFixed(2)} x`);
  const noCheckpoint = openedBy(folder);
  const chain = chainTo(folder, CHAIN_START, { segment, offset: bytes, line: lines, seq: state.seq });
  if (!chain.ok) throw new Error(chain.problem.message);
  writeCheckpoint(folder, programMark(), { chain: chain.value, state });
  const withCheckpoint = openedBy(folder);
  rmSync(folder, { recursive: true });
  const holds =
    noCheckpoint.seq === count && withCheckpoint.seq === count && noCheckpoint.state === withCheckpoint.state;
  say('opened without a checkpoint', `${noCheckpoint.seconds.toFixed(1)} s, at most ${noCheckpoint.rssMb} MB`);
  say(
    'opened with one, every byte held against it',
    `${withCheckpoint.seconds.toFixed(1)} s, at most ${withCheckpoint.rssMb} MB`,
  );
  say('the same state', holds ? 'yes' : 'NO');
  return holds;
};

type Opened = { readonly seq: number; readonly state: string; readonly seconds: number; readonly rssMb: number };

/** In a process of its own, with a heap of 128 MB. */
const openedBy = (folder: string): Opened => {
  const module = fileURLToPath(new URL('../../src/runtime/open-state.ts', import.meta.url));
  const script = `import { createHash } from 'node:crypto'; import { openState } from ${JSON.stringify(module)};
    const from = performance.now(); const opened = openState(${JSON.stringify(folder)}, 'look'); const seconds = (performance.now() - from) / 1000;
    if (!opened.ok) throw new Error(opened.problem.message); const { state } = opened.value;
    console.log(JSON.stringify({ seq: state.seq, state: createHash('sha256').update(JSON.stringify(state)).digest('hex'), seconds, rssMb: Math.round(process.resourceUsage().maxRSS / 1024) }));`;
  const done = spawnSync(
    process.execPath,
    ['--max-old-space-size=128', '--import', 'tsx', '--input-type=module', '-e', script],
    { encoding: 'utf8' },
  );
  if (done.status !== 0) throw new Error(done.stderr);
  return JSON.parse(done.stdout);
};

const soaked = hours > 0 ? await soak() : true;
const many = count > 0 ? await manyRecords() : true;
process.exit(soaked && many ? 0 : 1);
