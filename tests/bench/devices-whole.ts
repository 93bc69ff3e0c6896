import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { openPtyPort } from '../devices/support/pty-port.js';
import { TestTerminal } from '../support/terminal.js';

const root = fileURLToPath(new URL('../../', import.meta.url));
const CLI = join(root, 'dist/cli.js');
const PER_S = 400;
const SECONDS = 8;
/** Two stations speak in turn, so that a check is gathered every 100 lines, four times a second. */
const CHECK_LINES = 100;
const REDRAW_MS = 100;

/** The whole built program on a real pseudo-terminal: processor time with and without the board, reading to screen, ten times the rate. */
export const benchSensorWhole = async (): Promise<string[]> => {
  const scratch = mkdtempSync(join(tmpdir(), 'holdreg-bench-'));
  try {
    const profile = join(scratch, 'profile.json');
    writeFileSync(
      profile,
      JSON.stringify({
        ...JSON.parse(readFileSync(join(root, 'devices/line-delimited.json'), 'utf8')),
        expect_per_s: PER_S,
        stuck_after: 0,
      }),
    );
    const board: number[] = [];
    const bare: number[] = [];
    let seen: readonly number[] = [];
    let unseen = 0;
    for (let k = 0; k < 3; k += 1) {
      bare.push((await withoutBoard(scratch, profile, PER_S, SECONDS)).cpu);
      const with_ = await withBoard(scratch, profile);
      board.push(with_.cpu);
      seen = [...seen, ...with_.seenMs];
      unseen += with_.unseen;
    }
    const fast = await withoutBoard(scratch, profile, PER_S * 10, 5);
    const sorted = seen.toSorted((a, b) => a - b);
    const at = (share: number): number =>
      sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
    return [
      `${PER_S} lines a second, processor time with the board: ${(median(board) / median(bare)).toFixed(2)} x without it (aim 2 or less; ${(100 * median(bare)).toFixed(1)} % of a core without, ${(100 * median(board)).toFixed(1)} % with; 3 runs of ${SECONDS} s)`,
      `last reading of a check to screen: p99 ${(at(0.99) / REDRAW_MS).toFixed(2)} x the redraw interval (aim 1.25 or less; median ${at(0.5).toFixed(0)} ms, p99 ${at(0.99).toFixed(0)} ms, ${sorted.length} checks, ${unseen} more replaced by the next before they were drawn)`,
      `${PER_S * 10} lines a second: ${fast.sent} sent, ${fast.read} read, ${fast.sent - fast.read} not (${fast.counts})`,
    ];
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
};

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;

const cli = (...args: readonly string[]): string =>
  execFileSync(process.execPath, [CLI, ...args], { encoding: 'utf8' });

/** A run that is running, with tolerances so wide that nothing is found. */
const newRun = (scratch: string): string => {
  const data = mkdtempSync(join(scratch, 'data-'));
  const job = join(data, 'job.json');
  const wide = { along_mm: 9, across_mm: 9 };
  writeFileSync(
    job,
    JSON.stringify({
      ...JSON.parse(readFileSync(join(root, 'demo-data/job.json'), 'utf8')),
      tolerance: { print: wide, die: wide },
      pairs: [],
    }),
  );
  cli('start', join(root, 'demo-data/press.json'), job, '--data', data, '--by', 'bench', '--no-board');
  cli('check', '2:0:0', '3:0:0', '4:0:0', '5:0:0', 'D:0:0', '6:in', '--data', data, '--counter', '0');
  cli('ok', '--data', data, '--passed-by', 'bench', '--counter', '10');
  return data;
};

/** Processor seconds a process has used. */
const cpuOf = (pid: number): number => {
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]?.split(' ') ?? [];
  return (Number(fields[11]) + Number(fields[12])) / 100;
};

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/** Value number k of a check, each unlike the one before. */
const marked = (check: number): string => `0.${String(11 + ((check * 37) % 88)).padStart(2, '0')}`;

/** Sends lines at a steady rate; `onCheck` when the last line of a check has gone. */
const send = async (
  write: (text: string) => void,
  perS: number,
  seconds: number,
  onCheck: (check: number) => void,
): Promise<number> => {
  const start = performance.now();
  let sent = 0;
  while (sent < perS * seconds) {
    const due = Math.min(perS * seconds, Math.floor(((performance.now() - start) / 1000) * perS));
    let text = '';
    const from = sent;
    for (; sent < due; sent += 1) text += `${2 + (sent % 2)},${marked(Math.floor(sent / CHECK_LINES))},0.000,80\r\n`;
    if (text !== '') write(text);
    for (let check = Math.floor(from / CHECK_LINES); (check + 1) * CHECK_LINES <= sent; check += 1) onCheck(check);
    await pause(5);
  }
  return sent;
};

const withoutBoard = async (
  scratch: string,
  profile: string,
  perS: number,
  seconds: number,
): Promise<{ readonly cpu: number; readonly sent: number; readonly read: number; readonly counts: string }> => {
  const link = join(mkdtempSync(join(scratch, 'port-')), 'sensor');
  const child: ChildProcess = spawn(
    process.execPath,
    [join(root, 'tests/bench/devices-headless.mjs'), newRun(scratch), link, profile],
    { stdio: ['ignore', 'pipe', 'inherit'], env: { ...process.env, NODE_ENV: 'production' } },
  );
  let said = '';
  child.stdout?.on('data', (d) => (said += d));
  while (!said.includes('ready')) await pause(10);
  const pty = await openPtyPort();
  symlinkSync(pty.path, link);
  await pause(2500);
  const before = cpuOf(child.pid ?? 0);
  const sent = await send(pty.write, perS, seconds, () => undefined);
  await pause(500);
  const cpu = (cpuOf(child.pid ?? 0) - before) / (seconds + 0.5);
  const ended = new Promise((resolve) => child.on('exit', resolve));
  child.kill('SIGTERM');
  await ended;
  pty.unplug();
  const counts = JSON.parse(said.trim().split('\n').at(-1) ?? '{}');
  return { cpu, sent, read: counts.readings, counts: JSON.stringify(counts) };
};

const withBoard = async (
  scratch: string,
  profile: string,
): Promise<{ readonly cpu: number; readonly seenMs: readonly number[]; readonly unseen: number }> => {
  const link = join(mkdtempSync(join(scratch, 'port-')), 'sensor');
  const terminal = new TestTerminal({
    command: process.execPath,
    args: [CLI, '--data', newRun(scratch), '--sensor', link, '--profile', profile],
    columns: 100,
    rows: 34,
  });
  await terminal.waitFor(/sensor/i);
  // Plugged in after the board has started, which would else inherit its far end.
  const pty = await openPtyPort();
  symlinkSync(pty.path, link);
  await terminal.waitFor(/sensor reading/);
  await pause(1500);
  const seenMs: number[] = [];
  let unseen = 0;
  const waiting: Promise<unknown>[] = [];
  const before = cpuOf(terminal.pid);
  await send(pty.write, PER_S, SECONDS, (check) => {
    const from = performance.now();
    waiting.push(
      terminal.waitFor(`+${marked(check)}`, 3000).then(
        () => seenMs.push(performance.now() - from),
        () => (unseen += 1),
      ),
    );
  });
  await Promise.all(waiting);
  const cpu = (cpuOf(terminal.pid) - before) / SECONDS;
  await terminal.close();
  pty.unplug();
  return { cpu, seenMs, unseen };
};
