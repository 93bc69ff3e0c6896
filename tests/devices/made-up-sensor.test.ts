import { readFileSync } from 'node:fs';
import { afterEach, describe, expect, it } from 'vitest';
import { openSensor, type Sensor } from '../../src/devices/open-sensor.js';
import { readProfile } from '../../src/devices/read-profile.js';
import { openPtyPort } from './support/pty-port.js';
import { sensorLog } from './support/sensor-log.js';
import { until } from './support/until.js';

let sensor: Sensor | null = null;
afterEach(async () => {
  await sensor?.close();
  sensor = null;
});

// Written from a made-up sheet by following devices/README.md; see there how it went.
describe('a sensor added by one JSON file', () => {
  it('is read over a real pseudo-terminal', async () => {
    const profile = readProfile(
      readFileSync(new URL('./made-up-sensor.json', import.meta.url), 'utf8'),
      'made-up-sensor.json',
    );
    if (!profile.ok) throw new Error(profile.problem.message);
    const pty = await openPtyPort();
    const log = sensorLog();
    sensor = openSensor({ port: pty.path, profile: profile.value, now: () => 5, onEvent: log.onEvent });
    await log.open();
    pty.write(
      '#00 IDLE E1\r#03 L-0012 T+0007 Q231 6F\r#07 L+0350 T-0020 Q255 79\r#02 L----- T----- Q004 4C\r#03 L-0012 T+0007 Q231 6E\r',
    );
    await until('three readings', () => log.readings().length === 3);
    expect(log.readings()).toEqual(['3:0.03048', 'D:-0.889', '2:null']);
    await until('the wrong one refused', () => log.refused().length === 1);
    expect(log.refused()).toEqual(['checksum']);
    pty.unplug();
  });
});
