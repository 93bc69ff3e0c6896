import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { repeatMm } from '../core/job.js';
import type { SensorLife } from '../core/record.js';
import { RULES } from '../core/run/begin.js';
import { readRawRecord, replayRaw } from '../devices/raw-record.js';
import { loadProfile } from '../devices/read-profile.js';
import { createSimulatedPress, SIMULATED_FAULTS, type SimulatedPress } from '../devices/simulated-press.js';
import { type SimulatedPty, simulatedPty } from '../devices/simulated-pty.js';
import type { SimulatedWeb } from '../devices/simulated-web.js';
import { openRun, type Runtime } from '../runtime.js';
import { createRun } from '../store/run-folder.js';
import { version } from '../version.js';
import { attachSensor } from './attach-sensor.js';
import { type Exit, type Io, MACHINE, NO, OK, refuse } from './exit.js';
import { readSetup } from './read-setup.js';

const file = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const PROFILE = 'devices/sentence-xor.json';
const TICK_MS = 50;
const PATIENCE_MS = 15_000;
/** How long a fault goes on after it was noticed. */
const LASTS_MS = 800;

/**
 * The demo's sensor misbehaving on purpose: a simulated press speaks over a real pseudo-terminal into a real run, every fault is put in once, and
 * what the run's log says of it is printed, with how long it took to be noticed and to be over, and what was lost in the end.
 */
export const demoFaults = async (io: Io): Promise<Exit> => {
  const scratch = mkdtempSync(join(tmpdir(), 'holdreg-faults-'));
  const ending: (() => Promise<unknown> | unknown)[] = [() => rmSync(scratch, { recursive: true, force: true })];
  try {
    const setup = readSetup(file('demo-data/press.json'), file('demo-data/job.json'));
    if (!setup.ok) return refuse(io, setup.problem.message, MACHINE);
    const folder = createRun(scratch, 'faults');
    if (!folder.ok) return refuse(io, folder.problem.message, MACHINE);
    const { press, job } = setup.value;
    const first = {
      type: 'begin',
      run: 'faults',
      press,
      job,
      rules: RULES,
      program: version(),
      time_zone: 'UTC',
    } as const;
    const opened = await openRun(folder.value, { operator: 'demo', first });
    if (!opened.ok) return refuse(io, opened.problem.message, MACHINE);
    const runtime = opened.value;
    ending.push(runtime.close);
    // As shipped, but quicker to call the sensor silent or stuck, so that the demo is short.
    const profileFile = join(scratch, 'profile.json');
    writeFileSync(
      profileFile,
      JSON.stringify({ ...JSON.parse(readFileSync(file(PROFILE), 'utf8')), stale_ms: 1000, stuck_after: 15 }),
    );
    const profile = await loadProfile(profileFile);
    if (!profile.ok) return refuse(io, profile.problem.message, MACHINE);
    const web: SimulatedWeb = {
      stations: press.stations.map((s) => ({ id: s.id, at_m: s.at_m, run_out_mm: 0.01 })),
      reference: job.reference,
      sensor_m: press.sensor_m ?? press.sample_m,
      repeat_m: repeatMm(press, job) / 1000,
      marks_per_repeat: 1,
      causes: [],
      noise_mm: { along: 0.015, across: 0.015 },
      resolution_mm: 0.001,
      share_bad: 0.01,
    };
    const simulated = createSimulatedPress({ web, profile: profile.value, random: Math.random });
    simulated.setSpeed(120);
    const pty = await simulatedPty(simulated);
    if (!pty.ok) return refuse(io, pty.problem.message, MACHINE);
    ending.push(pty.value.close);
    const sensor = await attachSensor(runtime, { port: pty.value.path, profile: profileFile, keepRaw: true });
    if (!sensor.ok) return refuse(io, sensor.problem.message, MACHINE);
    const timer = setInterval(() => pty.value.advance(TICK_MS), TICK_MS);
    ending.push(() => clearInterval(timer));
    let checks = 0;
    const unhear = runtime.onRecord((record) => {
      if (record.type === 'check') checks += 1;
    });
    ending.push(unhear);

    const allOver = await everyFault(runtime, simulated, pty.value, io);
    clearInterval(timer);
    await sensor.value.close();
    const counts = sensor.value.counts();
    const refused = Object.values(counts.refused).reduce((a, b) => a + b, 0);
    const raw = await readRawRecord(join(runtime.folder, 'sensor'));
    const again = replayRaw(profile.value, raw.chunks, () => undefined);
    const bytes = raw.chunks.reduce((sum, c) => sum + c.bytes.length, 0);
    const accounted = counts.readings + refused + counts.flooded + counts.stuck + counts.other;
    const nothingLost = bytes === counts.bytes && accounted === counts.messages;
    io.out(
      [
        '',
        `${counts.bytes} bytes came off the wire, ${bytes} are in the raw record; played again they give ${again.messages} messages.`,
        `${counts.messages} messages: ${counts.readings} readings used, ${refused} refused (${told(counts.refused)}), ${counts.flooded} of a flood counted and not read, ${counts.stuck} of a stuck station not used.`,
        `${checks} sensor checks are in the run's log. Lost without being counted: ${nothingLost ? 'nothing' : `${counts.bytes - bytes} bytes, ${counts.messages - accounted} messages`}.`,
        '',
      ].join('\n'),
    );
    return allOver && nothingLost ? OK : NO;
  } finally {
    for (const end of ending.toReversed()) await end();
  }
};

const told = (refused: Readonly<Record<string, number>>): string =>
  Object.entries(refused)
    .filter(([, n]) => n > 0)
    .map(([why, n]) => `${why} ${n}`)
    .join(', ') || 'none';

/** Puts every fault in and takes it out again, each time waiting for what the log says. */
const everyFault = async (runtime: Runtime, press: SimulatedPress, pty: SimulatedPty, io: Io): Promise<boolean> => {
  const said: SensorLife[] = [];
  const unhear = runtime.onRecord((record) => {
    if (record.type === 'sensor') said.push(record);
  });
  const next = async (from: number, wanted: (s: SensorLife) => boolean): Promise<SensorLife | null> => {
    const began = performance.now();
    for (;;) {
      const found = said.slice(from).find(wanted);
      if (found !== undefined || performance.now() - began > PATIENCE_MS) return found ?? null;
      await pause(5);
    }
  };
  let allOver = true;
  const one = async (
    name: string,
    begin: () => void | Promise<void>,
    end: () => void | Promise<void>,
  ): Promise<void> => {
    const from = said.length;
    const began = performance.now();
    await begin();
    const noticed = await next(from, (s) => s.state !== 'back');
    const noticedMs = performance.now() - began;
    await pause(LASTS_MS);
    const endedAt = performance.now();
    await end();
    const back = noticed !== null ? await next(from, (s) => s.state === 'back') : null;
    const backMs = performance.now() - endedAt;
    if (noticed === null) io.out(`${name.padEnd(18)} was not noticed\n`);
    else
      io.out(
        `${name.padEnd(18)} ${(noticedMs / 1000).toFixed(1)} s: ${noticed.state}: ${noticed.detail}\n${''.padEnd(18)} ${back === null ? 'not over' : `over ${(backMs / 1000).toFixed(1)} s after: ${back.detail}`}\n`,
      );
    allOver &&= back !== null;
    await pause(LASTS_MS);
  };
  await next(0, (s) => s.state === 'attached');
  await pause(1000);
  for (const fault of SIMULATED_FAULTS)
    await one(
      fault,
      () => press.fault(fault),
      () => press.fault(null),
    );
  await one('unplugged', pty.unplug, pty.plug);
  unhear();
  return allOver;
};

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
