import { afterEach, describe, expect, it } from 'vitest';
import { openSensor, type Sensor, type SensorOptions } from '../../src/devices/open-sensor.js';
import type { SensorEvent } from '../../src/devices/sensor-event.js';
import { profileFile } from './support/profile-file.js';
import { openPtyPort } from './support/pty-port.js';
import { until } from './support/until.js';

let sensors: Sensor[] = [];
afterEach(async () => {
  await Promise.all(sensors.map((s) => s.close()));
  sensors = [];
});

const start = (options: Partial<SensorOptions> & { readonly port: string }): SensorEvent[] => {
  const events: SensorEvent[] = [];
  sensors.push(
    openSensor({
      profile: profileFile('line-delimited.json'),
      now: () => 1000,
      onEvent: (e) => events.push(e),
      ...options,
    }),
  );
  return events;
};
const states = (events: readonly SensorEvent[]): string[] =>
  events.flatMap((e) => (e.kind === 'state' ? [e.state] : []));
const details = (events: readonly SensorEvent[]): string =>
  events.flatMap((e) => (e.kind === 'state' ? [e.detail] : [])).join('\n');
const stations = (events: readonly SensorEvent[]): string[] =>
  events.flatMap((e) => (e.kind === 'readings' ? e.readings.map((r) => r.station) : []));

/** The port is open and has been quiet: what comes now begins a line. */
const settled = async (events: readonly SensorEvent[]): Promise<void> => {
  await until('port open', () => states(events).includes('attached') || states(events).includes('back'));
  await new Promise((resolve) => setTimeout(resolve, 150));
};

describe('a sensor on a real pseudo-terminal', () => {
  it('reads lines, whatever pieces they come in', async () => {
    const pty = await openPtyPort();
    const events = start({ port: pty.path });
    await settled(events);
    pty.write('2,+0.012,-0.0');
    await new Promise((resolve) => setTimeout(resolve, 20));
    pty.write('34,87\r\n3,0.020,,50\r');
    pty.write('\n');
    await until('two readings', () => stations(events).length === 2);
    expect(events.filter((e) => e.kind === 'readings')).toEqual([
      {
        kind: 'readings',
        at_ms: 1000,
        counter_m: null,
        readings: [{ station: '2', along_mm: 0.012, across_mm: -0.034, strength: 0.87, width_mm: null }],
      },
      {
        kind: 'readings',
        at_ms: 1000,
        counter_m: null,
        readings: [{ station: '3', along_mm: 0.02, across_mm: null, strength: 0.5, width_mm: null }],
      },
    ]);
    pty.unplug();
  });

  it('does not take the tail of a line for a line when it begins to listen in the middle', async () => {
    const pty = await openPtyPort();
    const events = start({ port: pty.path });
    await until('port open', () => states(events).includes('attached'));
    pty.write('2,0.05,0.01,80\r\n3,0.06,0.01,80\r\n');
    await until('second line', () => stations(events).includes('3'));
    expect(stations(events)).toEqual(['3']);
    expect(events.filter((e) => e.kind === 'refused')).toEqual([
      { kind: 'refused', line: '2,0.05,0.01,80', why: expect.stringContaining('half') },
    ]);
    pty.unplug();
  });

  it('says at once that the cable was pulled, and comes back by itself under the same name', async () => {
    const pty = await openPtyPort();
    let here = pty.path;
    const { openSerialLine } = await import('../../src/devices/serial-line.js');
    const open = openSerialLine();
    const events = start({
      port: 'the port',
      openLine: (_path, settings, handlers) => open(here, settings, handlers),
      random: () => 0,
    });
    await settled(events);
    pty.write('2,0.05,0.01,80\r\n2,0.0');
    await until('reading', () => stations(events).length === 1);
    pty.unplug();
    await until('lost', () => states(events).includes('lost'));
    expect(details(events)).toContain('went away');
    const again = await openPtyPort();
    here = again.path;
    await until('back', () => states(events).includes('back'));
    await new Promise((resolve) => setTimeout(resolve, 150));
    again.write('5,0.07,0.01,80\r\n');
    await until('reading after', () => stations(events).includes('5'));
    expect(stations(events)).toEqual(['2', '5']);
    again.unplug();
  });

  it('says that a port is missing, goes on trying, and attaches when it comes', async () => {
    const pty = await openPtyPort();
    const { openSerialLine } = await import('../../src/devices/serial-line.js');
    const open = openSerialLine();
    let there = false;
    const events = start({
      port: '/dev/ttyUSB77',
      openLine: (path, settings, handlers) => open(there ? pty.path : path, settings, handlers),
      random: () => 0,
    });
    await until('lost', () => states(events).includes('lost'));
    expect(details(events)).toContain('there is no port /dev/ttyUSB77');
    there = true;
    await until('attached', () => states(events).includes('attached'));
    expect(states(events)).toEqual(['lost', 'attached']);
    pty.unplug();
  });

  it('says that another program has the port', async () => {
    const pty = await openPtyPort();
    const first = start({ port: pty.path });
    await until('first open', () => states(first).includes('attached'));
    const second = start({ port: pty.path });
    await until('second refused', () => states(second).includes('lost'));
    expect(details(second)).toContain('in use by another program');
    pty.unplug();
  });

  it('says silence, and that it is over', async () => {
    const pty = await openPtyPort();
    const events = start({ port: pty.path, profile: profileFile('line-delimited.json', { stale_ms: 300 }) });
    await settled(events);
    pty.write('2,0.05,0.01,80\r\n');
    await until('silent', () => states(events).includes('silent'));
    pty.write('# here\r\n');
    await until('back', () => states(events).includes('back'));
    expect(states(events)).toEqual(['attached', 'silent', 'back']);
    pty.unplug();
  });

  it('never lets an escape sequence through to whoever shows it', async () => {
    const pty = await openPtyPort();
    const events = start({ port: pty.path });
    await settled(events);
    pty.write('\u001b]0;owned\u0007\u001b[2J,1,2,3\r\n2,\u001b[31m,0,80\r\n\u009b2J\u202e,0,0,80\r\n');
    await until('three refused', () => events.filter((e) => e.kind === 'refused').length === 3);
    expect(JSON.stringify(events)).not.toMatch(/\\u00|[^\x20-\x7e]/);
    expect(events.find((e) => e.kind === 'refused')).toMatchObject({ line: '<1B>]0;owned<07><1B>[2J,1,2,3' });
    pty.unplug();
  });
});
