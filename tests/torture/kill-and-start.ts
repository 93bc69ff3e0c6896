import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { openState } from '../../src/runtime/open-state.js';
import { onScreen, runningPress } from '../end-to-end/program.js';
import { type Seeded, seeded } from '../support/seeded.js';
import type { TestTerminal } from '../support/terminal.js';
import { type Account, account, foldFromScratch, type Ledger } from './ledger.js';
import { PROFILE, type SensorFeed, sensorFeed } from './sensor-feed.js';

export type Tortured = Account & {
  readonly kills: number;
  /** Kills that hit while the program was still starting, and while a key was being dealt with. */
  readonly whileStarting: number;
  readonly whileKeying: number;
  readonly repairedTails: number;
  /** Fields of a half-keyed check that a killed board brought back. */
  readonly draftsBack: number;
  readonly stateChecked: number;
  readonly statesWrong: readonly string[];
};

export type TortureOptions = {
  readonly kills: number;
  readonly seed: number;
  readonly lifeMs?: number;
  readonly checkEvery?: number;
};

/**
 * Runs the built program on a real pseudo-terminal with a sensor on another, keys notes and checks, kills it with -9 at a random moment, starts it again;
 * after each life holds the log against what the screen had said was taken.
 */
export const killAndStart = async ({
  kills,
  seed,
  lifeMs = 1500,
  checkEvery = 20,
}: TortureOptions): Promise<Tortured> => {
  const random = seeded(seed);
  const data = runningPress();
  const folder = join(data, 'runs', readdirSync(join(data, 'runs'))[0] ?? '');
  const feed = await sensorFeed(seed);
  const ledger: Ledger = { notes: [], checks: [], nextCheck: 1 };
  const told = { whileStarting: 0, whileKeying: 0, draftsBack: 0, stateChecked: 0 };
  const statesWrong: string[] = [];
  try {
    for (let life = 1; life <= kills; life += 1) {
      await liveOnce(data, feed, random, ledger, told, lifeMs);
      const now = account(folder, ledger);
      if (now.lost.length + now.twice.length + now.outOfOrder.length > 0)
        return { ...now, ...told, kills: life, repairedTails: tornIn(folder), statesWrong };
      if (life % checkEvery === 0 || life === kills) {
        told.stateChecked += 1;
        const opened = openState(folder, 'look');
        const shown = opened.ok ? JSON.stringify(opened.value.state) : opened.problem.message;
        if (shown !== JSON.stringify(foldFromScratch(folder))) statesWrong.push(`after kill ${life}`);
      }
    }
    return { ...account(folder, ledger), ...told, kills, repairedTails: tornIn(folder), statesWrong };
  } finally {
    feed.stop();
  }
};

type Told = { whileStarting: number; whileKeying: number; draftsBack: number };

const liveOnce = async (
  data: string,
  feed: SensorFeed,
  random: Seeded,
  ledger: Ledger,
  told: Told,
  lifeMs: number,
): Promise<void> => {
  const board = onScreen(data, '--by', 'MK', '--sensor', feed.path, '--profile', PROFILE);
  let phase: 'starting' | 'looking' | 'keying' = 'starting';
  let died = false;
  const die = (): void => {
    if (died) return;
    died = true;
    feed.heard(false);
    if (phase === 'starting') told.whileStarting += 1;
    if (phase === 'keying') told.whileKeying += 1;
    board.kill('SIGKILL');
  };
  // One life in six ends somewhere in the start.
  const early = random.uniform() < 1 / 6;
  const earlyTimer = early ? setTimeout(die, random.uniform() * 900) : null;
  let timer: NodeJS.Timeout | null = null;
  try {
    await board.waitFor('along +ahead', 60_000);
    phase = 'looking';
    feed.heard(true);
    timer = setTimeout(die, random.uniform() * lifeMs);
    for (;;) {
      phase = 'keying';
      await (random.uniform() < 0.6 ? keyNote(board, ledger, random) : keyCheck(board, ledger, random, told));
      phase = 'looking';
    }
  } catch (error) {
    if (!died) throw error;
  } finally {
    if (timer !== null) clearTimeout(timer);
    if (earlyTimer !== null) clearTimeout(earlyTimer);
    await board.close();
  }
};

const keyNote = async (board: TestTerminal, ledger: Ledger, random: Seeded): Promise<void> => {
  board.type('n');
  await board.waitFor('Put this note');
  const note = { text: `n${ledger.notes.length}-${Math.floor(random.uniform() * 1e6)}`, shown: false };
  board.type(note.text);
  await board.waitFor(note.text);
  ledger.notes.push(note);
  board.press('enter');
  await board.waitFor('Noted.');
  note.shown = true;
};

const keyCheck = async (board: TestTerminal, ledger: Ledger, random: Seeded, told: Told): Promise<void> => {
  board.type('c');
  const asked = await board.waitFor(/Sample (\d+) pulled at|CHECK (\d+)/);
  const fresh = /Sample (\d+) pulled at/.exec(asked);
  if (fresh !== null) {
    ledger.nextCheck = Math.max(ledger.nextCheck, Number(fresh[1]));
    board.press('enter');
  }
  const grid = await board.waitFor(/CHECK (\d+)/);
  const check = Number(/CHECK (\d+)/.exec(grid)?.[1]);
  if (fresh === null && /\d\.\d\d AHEAD/.test(grid)) told.draftsBack += 1;
  else {
    const divisions = 1 + Math.floor(random.uniform() * 9);
    board.type(`${divisions}A`);
    await board.waitFor(`${(divisions / 100).toFixed(2)} AHEAD`);
  }
  const keyed = { check, along_mm: aheadOn(board.screen()), shown: false };
  ledger.checks.push(keyed);
  for (let enter = 0; enter < 60 && /CHECK \d+/.test(board.screen()); enter += 1) {
    board.press('enter');
    await settle(board);
  }
  await board.waitFor(new RegExp(`Check ${check} saved`));
  keyed.shown = true;
};

/** What the grid says was keyed, mm ahead. */
const aheadOn = (screen: string): readonly number[] =>
  [...screen.matchAll(/(\d\.\d\d) AHEAD/g)].map((found) => Number(found[1]));

/** The next frame, or a moment without one. */
const settle = async (board: TestTerminal): Promise<void> => {
  const before = board.screen();
  await board.waitFor((screen) => screen !== before, 300).catch(() => undefined);
};

const tornIn = (folder: string): number => readdirSync(folder).filter((name) => name.includes('.torn-')).length;
