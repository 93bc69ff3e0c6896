import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { placeWords } from '../core/counter.js';
import { readReadings } from '../core/readings/read-readings.js';
import { RULES } from '../core/run/begin.js';
import { eventNames } from '../core/views/event-names.js';
import { fitRecorded, type Recorded, turnedByHand, untouched } from '../demo/feed.js';
import { handoverText } from '../report/handover-text.js';
import { openRun, type Runtime } from '../runtime.js';
import { createRun } from '../store/run-folder.js';
import { version } from '../version.js';
import { showBoard } from './board.js';
import { BAD, type Exit, type Io, MACHINE, OK, refuse } from './exit.js';
import { readSetup } from './read-setup.js';
import { tellFindings } from './tell-findings.js';

export type DemoOptions = {
  readonly speed: string;
  readonly ascii?: boolean;
  readonly mute?: boolean;
  /** The sensor misbehaves on purpose, in plain lines. */
  readonly faults?: boolean;
};

const DATA = fileURLToPath(new URL('../../demo-data/', import.meta.url));
const TICK_MS = 100;

/** The whole job on the recorded shift: the real pipeline, a log on a real disk, sped up. Keys work; a knob turned at the board is obeyed. */
export const demo = async (options: DemoOptions, io: Io): Promise<Exit> => {
  if (options.faults === true) return (await import('./demo-faults.js')).demoFaults(io);
  const speed = Number(options.speed);
  if (!(speed > 0 && speed <= 100_000))
    return refuse(io, `--speed "${options.speed}" is not a number of times above 0`, BAD);
  const setup = readSetup(join(DATA, 'press.json'), join(DATA, 'job.json'));
  if (!setup.ok) return refuse(io, setup.problem.message, BAD);
  const file = join(DATA, 'run.csv');
  const rows = readReadings(readFileSync(file, 'utf8'), file, setup.value);
  if (!rows.ok) return refuse(io, rows.problem.message, BAD);
  const recorded = recordedOf(rows.value);
  const first = recorded[0];
  if (first === undefined) return refuse(io, `${file} holds no run`, BAD);
  const scratch = mkdtempSync(join(tmpdir(), 'holdreg-demo-'));
  try {
    const folder = createRun(scratch, 'demo');
    if (!folder.ok) return refuse(io, folder.problem.message, MACHINE);
    const live = process.stdin.isTTY === true && process.stdout.isTTY === true;
    const began = Date.now();
    let fast_ms = first.at_ms;
    const now = live ? (): number => first.at_ms + (Date.now() - began) * speed : (): number => fast_ms;
    const opened = await openRun(folder.value, {
      now,
      operator: 'you',
      first: {
        type: 'begin',
        run: 'demo',
        press: setup.value.press,
        job: setup.value.job,
        rules: RULES,
        program: version(),
        time_zone: 'UTC',
      },
    });
    if (!opened.ok) return refuse(io, opened.problem.message, MACHINE);
    if (!live) return await printed(opened.value, recorded, io, (ms) => (fast_ms = ms));
    const feeder = play(opened.value, recorded);
    const code = await showBoard(opened.value, options, io);
    feeder.stop();
    return code;
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
};

const printed = async (
  runtime: Runtime,
  recorded: readonly Recorded[],
  io: Io,
  clock: (ms: number) => void,
): Promise<Exit> => {
  runtime.onRecord((record, found) => {
    const lines = tellFindings(runtime.state(), record, found, false);
    if (lines.length > 0 && 'web_m' in record)
      io.out(`${placeWords(record.web_m ?? 0, eventNames(runtime.state()))}\n${lines.map((l) => `  ${l}\n`).join('')}`);
  });
  for (const { body, at_ms, by } of recorded) {
    clock(at_ms);
    const wrote = await runtime.submit(body, { by, soon: true });
    if (!wrote.ok) return refuse(io, wrote.problem.message, MACHINE);
  }
  const view = runtime.handover(null);
  await runtime.close();
  if (!view.ok) return refuse(io, view.problem.message, MACHINE);
  io.out(`\n${handoverText(view.value)}\n`);
  return OK;
};

/** Feeds the recorded facts as the demo's clock reaches them, fitted to what was done at the keys meanwhile. */
const play = (runtime: Runtime, recorded: readonly Recorded[]): { stop(): void } => {
  let next = 0;
  let meddled = untouched;
  let own = false;
  const unhear = runtime.onRecord((record) => {
    if (!own && record.type === 'correction') meddled = turnedByHand(meddled, record);
  });
  const tick = async (): Promise<void> => {
    while (next < recorded.length && (recorded[next]?.at_ms ?? Infinity) <= runtime.now()) {
      const due = recorded[next++];
      if (due === undefined) break;
      const fitted = fitRecorded(runtime.state(), meddled, due.body);
      meddled = fitted.meddled;
      const { body } = fitted;
      if (body === null) continue;
      own = true;
      await runtime.submit(body, { by: due.by, at: new Date(due.at_ms).toISOString() });
      own = false;
    }
  };
  let busy: Promise<void> = Promise.resolve();
  const timer = setInterval(() => {
    busy = busy.then(tick);
  }, TICK_MS);
  return {
    stop: () => {
      clearInterval(timer);
      unhear();
    },
  };
};

const recordedOf = (
  runs: readonly { readonly records: readonly { readonly body: Recorded['body']; readonly at: string | null }[] }[],
): readonly Recorded[] =>
  (runs[0]?.records ?? []).map(({ body, at }) => ({ body, at_ms: Date.parse(at ?? ''), by: 'MK' }));
