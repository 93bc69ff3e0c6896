import { readdirSync } from 'node:fs';
import { afterEach, describe, expect, it } from 'vitest';
import { checkOfGathered } from '../../src/core/check-of-gathered.js';
import { type Gathered, gatherConfig, sensorGather } from '../../src/core/sensor-gather.js';
import { openSensor, type Sensor } from '../../src/devices/open-sensor.js';
import type { SensorEvent } from '../../src/devices/sensor-event.js';
import { simulatedLine } from '../../src/devices/simulated-line.js';
import { createSimulatedPress, type SimulatedFault, type SimulatedPress } from '../../src/devices/simulated-press.js';
import { type SimulatedPty, simulatedPty } from '../../src/devices/simulated-pty.js';
import { exampleWeb } from './support/example-web.js';
import { profileFile } from './support/profile-file.js';
import { seeded } from './support/seeded.js';
import { sensorLog } from './support/sensor-log.js';
import { until } from './support/until.js';

const names = readdirSync(new URL('../../devices/', import.meta.url)).filter((name) => name.endsWith('.json'));

let ending: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const end of ending.toReversed()) await end();
  ending = [];
});

const onPty = async (press: SimulatedPress): Promise<SimulatedPty> => {
  const pty = await simulatedPty(press);
  if (!pty.ok) throw new Error(pty.problem.message);
  ending.push(pty.value.close);
  return pty.value;
};

/** The press runs at its own pace beside the test: so many ms of it every few ms. */
const running = (advance: (ms: number) => void, msEach: number): void => {
  const timer = setInterval(() => advance(msEach), 5);
  ending.push(async () => clearInterval(timer));
};

const sensorOn = (port: string, profile: ReturnType<typeof profileFile>, onEvent: (e: SensorEvent) => void): Sensor => {
  const sensor = openSensor({ port, profile, now: Date.now, onEvent, random: () => 0 });
  ending.push(sensor.close);
  return sensor;
};

describe.each(names)('a press that speaks %s over a real pseudo-terminal', (name) => {
  it('is read into checks that say where the press really prints, before and after a knob was turned', async () => {
    const file = profileFile(name);
    // Asked oftener than in life, so that the test is short.
    const talk = file.talk.mode === 'push' ? file.talk : { ...file.talk, every_ms: 20 };
    const profile = { ...file, talk, expect_per_s: 1000, limits: { ...file.limits, jump_mm: undefined } };
    const web = exampleWeb({
      causes: [
        { kind: 'step', station: '2', axis: 'along', at_m: -100, mm: 0.08 },
        { kind: 'step', station: '3', axis: 'across', at_m: -100, mm: -0.12 },
      ],
      noise_mm: { along: 0.004, across: 0.004 },
    });
    const press = createSimulatedPress({ web, profile, random: seeded(3) });
    press.setSpeed(120);
    const pty = await onPty(press);
    const config = { ...gatherConfig({}, null), size: 20, pause_s: 1e6 };
    let state = sensorGather.initial(config);
    let gathered: Gathered[] = [];
    sensorOn(pty.path, profile, (event) => {
      if (event.kind !== 'readings') return;
      const step = sensorGather.step(config, state, {
        readings: event.readings,
        at_ms: 0,
        web_m: event.counter_m ?? press.web_m(),
      });
      state = step.state;
      gathered.push(...step.gathered);
    });
    running(pty.advance, 150);
    const values = () => {
      const check = checkOfGathered(
        gathered.at(-1) ?? { from_web_m: 0, web_m: 0, from_ms: 0, at_ms: 0, stations: [] },
        { check: 1, roll: null, place: null },
      );
      return Object.fromEntries((check?.readings ?? []).map((r) => [r.station, r]));
    };
    await until('two checks', () => gathered.length >= 2);
    expect(values()['2']).toMatchObject({ along_mm: expect.closeTo(0.08, 2), across_mm: expect.closeTo(0, 2), n: 20 });
    expect(values()['3']).toMatchObject({ along_mm: expect.closeTo(0, 2), across_mm: expect.closeTo(-0.12, 2) });
    expect(Number(values()['2']?.spread_mm?.along)).toBeLessThan(0.02);
    press.act({ kind: 'move', station: '2', axis: 'along', mm: -0.08 });
    const turned = press.web_m();
    gathered = [];
    await until('a check printed wholly after', () => (gathered.at(-1)?.from_web_m ?? 0) > turned + 12);
    expect(values()['2']).toMatchObject({ along_mm: expect.closeTo(0, 2) });
  });
});

describe('faults on request, each seen, counted and got over', () => {
  const cases: readonly (readonly [SimulatedFault, string, RegExp])[] = [
    ['noise', 'noisy', /cannot be understood|speed/],
    ['half lines', 'noisy', /cannot be understood/],
    ['wrong checksum', 'noisy', /cannot be understood/],
    ['silence', 'silent', /nothing from the sensor/],
    ['flood', 'flooding', /messages a second come/],
    ['stuck', 'silent', /stuck/],
    ['escape sequences', 'back', /./],
    ['wrong speed', 'noisy', /speed is probably wrong/],
  ];
  it.each(cases)('%s', async (fault, state, words) => {
    const profile = profileFile('sentence-xor.json', {
      stale_ms: 500,
      stuck_after: fault === 'stuck' ? 20 : 0,
      expect_per_s: 15,
    });
    const web = exampleWeb({ noise_mm: { along: 0.01, across: 0.01 } });
    const press = createSimulatedPress({ web, profile, random: seeded(7) });
    press.setSpeed(60);
    const pty = await onPty(press);
    const log = sensorLog();
    const sensor = sensorOn(pty.path, profile, log.onEvent);
    await log.open();
    running(pty.advance, 10);
    await until('readings', () => log.readings().length > 20);
    press.fault(fault);
    if (fault === 'escape sequences') await until('junk refused', () => log.refused().length > 3);
    else await until(state, () => log.states().includes(state));
    await until(String(words), () => words.test(log.details()));
    press.fault(null);
    if (fault !== 'escape sequences') await until('back', () => log.states().at(-1) === 'back', 15_000);
    const before = log.readings().length;
    await until('readings again', () => log.readings().length > before + 20);
    for (const e of log.events)
      if (e.kind === 'readings') for (const r of e.readings) expect(Math.abs(r.along_mm ?? 0)).toBeLessThan(0.1);
    expect(JSON.stringify(log.events)).not.toMatch(/\\u00|[^\x20-\x7e]/);
    // Every message that was cut out is a reading, a refusal, part of a flood or of a stuck sensor: nothing goes unaccounted.
    const counts = sensor.counts();
    const refused = Object.values(counts.refused).reduce((a, b) => a + b, 0);
    expect(counts.readings + counts.stuck + refused + counts.flooded).toBe(counts.messages);
  });

  it('unplugged and plugged in again under the same name, over the pseudo-terminal', async () => {
    const profile = profileFile('sentence-xor.json');
    const press = createSimulatedPress({ web: exampleWeb(), profile, random: seeded(7) });
    press.setSpeed(60);
    const pty = await onPty(press);
    const log = sensorLog();
    sensorOn(pty.path, profile, log.onEvent);
    await log.open();
    running(pty.advance, 10);
    await until('readings', () => log.readings().length > 20);
    await pty.unplug();
    await until('lost', () => log.states().includes('lost'));
    const before = log.readings().length;
    await pty.plug();
    await until('back', () => log.states().at(-1) === 'back');
    await until('readings again', () => log.readings().length > before + 20);
    expect(log.states()).toEqual(['attached', 'lost', 'back']);
  });
});

describe('the same press without a terminal', () => {
  it('the same seed says the same bytes; a line inside the program unplugs and comes back', async () => {
    const profile = profileFile('line-delimited.json');
    const make = () => {
      const press = createSimulatedPress({
        web: exampleWeb({ noise_mm: { along: 0.02, across: 0.02 }, share_bad: 0.05 }),
        profile,
        random: seeded(11),
      });
      press.setSpeed(120);
      return press;
    };
    expect(Buffer.concat([...make().advance(5000)])).toEqual(Buffer.concat([...make().advance(5000)]));
    const line = simulatedLine(make());
    const log = sensorLog();
    const sensor = openSensor({
      port: 'demo',
      profile,
      now: Date.now,
      onEvent: log.onEvent,
      openLine: line.openLine,
      random: () => 0,
    });
    ending.push(sensor.close);
    await log.open();
    line.advance(1000);
    expect(log.readings().length).toBeGreaterThan(10);
    line.unplug();
    expect(log.states()).toEqual(['attached', 'lost']);
    line.plug();
    await until('back', () => log.states().at(-1) === 'back');
  });
  it('stands still when stopped', () => {
    const press = createSimulatedPress({
      web: exampleWeb(),
      profile: profileFile('line-delimited.json'),
      random: seeded(1),
    });
    expect(press.advance(10_000)).toEqual([]);
    expect(press.web_m()).toBe(0);
  });
});
