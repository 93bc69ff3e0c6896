import { join } from 'node:path';
import { loadProfile } from '../../src/devices/read-profile.js';
import { createSimulatedPress, type SimulatedPress } from '../../src/devices/simulated-press.js';
import { openPtyPort } from '../devices/support/pty-port.js';
import { ROOT } from '../end-to-end/program.js';
import { seeded } from '../support/seeded.js';

export const PROFILE = join(ROOT, 'devices/line-delimited.json');

/**
 * A press that runs in real time behind a pseudo-terminal, 75 repeats a second. What it says while nobody has the port open is not sent: a terminal holds
 * only so much unread.
 */
export type SensorFeed = {
  readonly path: string;
  readonly press: SimulatedPress;
  heard(isHeard: boolean): void;
  /** Repeats that were sent so far. */
  repeats(): number;
  stop(): void;
};

const STATIONS = ['1', '2', '3', '4', '5', 'D'];

export const sensorFeed = async (seed: number): Promise<SensorFeed> => {
  const profile = await loadProfile(PROFILE);
  if (!profile.ok) throw new Error(profile.problem.message);
  const port = await openPtyPort();
  const press = createSimulatedPress({
    web: {
      stations: STATIONS.map((id, i) => ({ id, at_m: 1.5 + 1.2 * i, run_out_mm: 0.005 })),
      reference: '1',
      sensor_m: 11,
      repeat_m: 0.2,
      marks_per_repeat: 1,
      causes: [],
      noise_mm: { along: 0.01, across: 0.01 },
      resolution_mm: 0.001,
      share_bad: 0,
    },
    profile: profile.value,
    random: seeded(seed).uniform,
    from_m: 0,
  });
  press.setSpeed(900);
  let isHeard = false;
  let messages = 0;
  const timer = setInterval(() => {
    const said = press.advance(40);
    if (isHeard)
      for (const bytes of said) {
        port.write(bytes);
        messages += 1;
      }
  }, 40);
  return {
    path: port.path,
    press,
    heard: (now) => {
      isHeard = now;
    },
    // One message a repeat and station, the reference's own left out.
    repeats: () => messages / (STATIONS.length - 1),
    stop: () => {
      clearInterval(timer);
      port.unplug();
    },
  };
};
