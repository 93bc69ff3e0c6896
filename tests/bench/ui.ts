import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { TestTerminal } from '../support/terminal.js';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const KEYS = 120;
const IDLE_S = 20;

/** What the board costs, as ratios within one run: the lines to print. */
export async function benchUi(): Promise<string[]> {
  return [...(await keyToScreen()), ...(await idleBytes()), ...memory()];
}

/** Key to changed screen, against the same key echoed by the least possible app, turn by turn in the same minute. */
async function keyToScreen(): Promise<string[]> {
  const lines: string[] = [];
  for (const [columns, rows] of [
    [80, 24],
    [120, 40],
  ] as const) {
    const bare = start(['tests/bench/bare-ink.ts'], columns, rows);
    const board = start(['tests/ui/look-at-board.ts', 'drifting', '--mute', '--feed'], columns, rows);
    try {
      await bare.waitFor('echo along');
      await board.waitFor('4 grey, along');
      const bareMs: number[] = [];
      const boardMs: number[] = [];
      for (let i = 0; i < KEYS; i += 1) {
        const axis = i % 2 === 0 ? 'across' : 'along';
        bareMs.push(await timed(bare, `echo ${axis}`));
        boardMs.push(await timed(board, `4 grey, ${axis}`));
      }
      // The first keys warm both programs up.
      const bareSorted = bareMs.slice(20).sort((a, b) => a - b);
      const boardSorted = boardMs.slice(20).sort((a, b) => a - b);
      const [bareMedian, boardMedian, bareTail, boardTail] = [
        at(bareSorted, 0.5),
        at(boardSorted, 0.5),
        at(bareSorted, 0.99),
        at(boardSorted, 0.99),
      ];
      lines.push(
        `board ${columns}x${rows}, key to changed screen with 400 sensor lines a second: median ${(boardMedian / bareMedian).toFixed(1)} x a bare echo (${boardMedian.toFixed(1)} / ${bareMedian.toFixed(1)} ms), 99th percentile ${(boardTail / bareTail).toFixed(1)} x (${boardTail.toFixed(1)} / ${bareTail.toFixed(1)} ms)`,
      );
    } finally {
      await bare.close();
      await board.close();
    }
  }
  return lines;
}

async function idleBytes(): Promise<string[]> {
  const board = start(['tests/ui/look-at-board.ts', 'drifting', '--mute', '--running'], 120, 40);
  try {
    await board.waitFor('4 grey, along');
    await new Promise((resolve) => setTimeout(resolve, 2_000));
    const before = board.raw.length;
    await new Promise((resolve) => setTimeout(resolve, IDLE_S * 1000));
    const written = board.raw.slice(before);
    const clears = written.match(/\u001B\[[23]J/g)?.length ?? 0;
    const kb = (Buffer.byteLength(written) / 1000) * (60 / IDLE_S);
    return [
      `board 120x40, press running, no key: ${kb.toFixed(1)} kB a minute (from ${IDLE_S} s; asked: under 20), ${clears} full-screen clears after the first frame`,
    ];
  } finally {
    await board.close();
  }
}

function memory(): string[] {
  const told = execFileSync(process.execPath, ['--expose-gc', '--import', 'tsx', 'tests/bench/ui-soak.ts'], {
    cwd: ROOT,
    encoding: 'utf8',
    env: { ...process.env, CI: '', NODE_ENV: 'production' },
  });
  const { first, last }: { first: number; last: number } = JSON.parse(told.trim().split('\n').at(-1) ?? '{}');
  return [
    `board, 12 simulated hours, 7,920 frames: heap after the last hour ${(last / first).toFixed(2)} x after the first (${last.toFixed(1)} / ${first.toFixed(1)} MB; asked: at most 1.3)`,
  ];
}

const start = (args: readonly string[], columns: number, rows: number): TestTerminal =>
  new TestTerminal({
    command: process.execPath,
    args: ['--import', 'tsx', ...args],
    cwd: ROOT,
    columns,
    rows,
    env: { NODE_ENV: 'production' },
  });

async function timed(terminal: TestTerminal, seen: string): Promise<number> {
  const from = performance.now();
  terminal.type('a');
  await terminal.waitFor(seen);
  const took = performance.now() - from;
  // Keys come from a hand: one falls anywhere between two frames of the sensor.
  await new Promise((resolve) => setTimeout(resolve, 20 + ((took * 7919) % 40)));
  return took;
}

const at = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
