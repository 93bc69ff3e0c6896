import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openSensor, type Sensor, type SensorOptions } from '../../src/devices/open-sensor.js';
import { mockWorld, type PortWorld, ptyWorld } from './support/port-worlds.js';
import { profileFile } from './support/profile-file.js';
import { type SensorLog, sensorLog } from './support/sensor-log.js';
import { until } from './support/until.js';

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

describe.each([
  ['a real pseudo-terminal', ptyWorld],
  ['the pretended binding', mockWorld],
] as const)('a sensor on %s', (_name, makeWorld) => {
  let world: PortWorld;
  let log: SensorLog;
  let sensor: Sensor | null = null;
  beforeEach(() => {
    world = makeWorld();
    log = sensorLog();
  });
  afterEach(async () => {
    await sensor?.close();
    sensor = null;
    world.end();
  });
  const start = (options: Partial<SensorOptions> = {}): Sensor => {
    sensor = openSensor({
      port: 'PORT',
      profile: profileFile('line-delimited.json'),
      now: () => 1000,
      onEvent: log.onEvent,
      openLine: world.openLine,
      random: () => 0,
      ...options,
    });
    return sensor;
  };

  it('reads lines, whatever pieces they come in', async () => {
    const device = await world.plug();
    start();
    await log.open();
    device.write('2,+0.012,-0.0');
    await pause(20);
    device.write('34,87\r\n3,0.020,,50\r');
    device.write('\n');
    await until('two readings', () => log.readings().length === 2);
    expect(log.events.filter((e) => e.kind === 'readings')).toEqual([
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
  });

  it('does not take the tail of a line for a line when it begins to listen in the middle', async () => {
    const device = await world.plug();
    start();
    await until('port open', () => log.states().includes('attached'));
    device.write('2,0.05,0.01,80\r\n3,0.06,0.01,80\r\n');
    await until('second line', () => log.readings().length > 0);
    expect(log.readings()).toEqual(['3:0.06']);
    expect(log.events.filter((e) => e.kind === 'refused')).toEqual([
      { kind: 'refused', line: '2,0.05,0.01,80', why: expect.stringContaining('half') },
    ]);
  });

  it('unplugged at every byte of a line: says so, takes no half line, comes back by itself', async () => {
    const line = '12,0.05,,99\r\n';
    start();
    for (let cut = 0; cut <= line.length; cut += 1) {
      const device = await world.plug();
      await log.open(cut + 1);
      device.write(`7,0.07,,99\r\n${line.slice(0, cut)}`);
      await until('the whole line before', () => log.readings().filter((r) => r === '7:0.07').length === cut + 1);
      await pause(10);
      device.unplug();
      // Waited for before the next is plugged in: a pseudo-terminal made meanwhile would inherit the far end of this one and keep it alive.
      await until('gone', () => log.details().split('went away').length === cut + 2);
    }
    expect(log.readings().filter((r) => r !== '7:0.07')).toEqual(['12:0.05']);
    // Cut after no byte, all bytes, or within the text: only the last loses something, and it is told.
    expect(log.refused()).toEqual(Array.from({ length: line.length - 1 }, () => 'half'));
  });

  it('says that the port is missing, goes on trying, and attaches when it comes', async () => {
    start();
    await until('lost', () => log.states().includes('lost'));
    expect(log.details()).toContain('there is no port');
    await world.plug();
    await until('attached', () => log.states().includes('attached'));
    expect(log.states()).toEqual(['lost', 'attached']);
  });

  it('says that another program has the port', async () => {
    await world.plug();
    start();
    await log.open();
    const second = sensorLog();
    const other = openSensor({
      port: 'PORT',
      profile: profileFile('line-delimited.json'),
      now: () => 0,
      onEvent: second.onEvent,
      openLine: world.openLine,
    });
    await until('second refused', () => second.states().includes('lost'));
    expect(second.details()).toContain('in use by another program');
    await other.close();
  });

  it('says silence, and that it is over; a wall clock that jumps changes nothing', async () => {
    const device = await world.plug();
    let now = 1_000_000;
    start({ profile: profileFile('line-delimited.json', { stale_ms: 400 }), now: () => (now += Math.sin(now) * 1e9) });
    await log.open();
    device.write('2,0.05,0.01,80\r\n');
    await pause(200);
    expect(log.states()).toEqual(['attached']);
    await until('silent', () => log.states().includes('silent'));
    device.write('# here\r\n');
    await until('back', () => log.states().includes('back'));
    expect(log.states()).toEqual(['attached', 'silent', 'back']);
  });

  it('recognises noise and a wrong speed, and says when it is over', async () => {
    const device = await world.plug();
    start({ profile: profileFile('line-delimited.json', { stale_ms: 600 }) });
    await log.open();
    for (let i = 0; i < 20; i += 1) {
      device.write(Buffer.from([0xf8, 0x80, 0x1e, 0x00, 0xe6, 0x98, 0x86, 0xf8, 0x0d, 0x0a]));
      await pause(5);
    }
    await until('noisy', () => log.states().includes('noisy'));
    await until('the words', () => /speed is probably wrong.*115200 baud/.test(log.details()));
    for (let i = 0; i < 30; i += 1) device.write('2,0.05,0.01,80\r\n');
    await until('back', () => log.states().includes('back'));
  });

  it('noise that ends in silence is said once each, not over and over', async () => {
    const device = await world.plug();
    start({ profile: profileFile('line-delimited.json', { stale_ms: 400 }) });
    await log.open();
    for (let i = 0; i < 15; i += 1) device.write('rubbish\r\n');
    await until('silent', () => log.states().includes('silent'));
    await pause(1000);
    expect(log.states()).toEqual(['attached', 'noisy', 'silent']);
    device.write('2,0.05,0.01,80\r\n');
    await until('back', () => log.states().includes('back'));
  });

  it('a flood is sampled, counted and said', async () => {
    const device = await world.plug();
    const here = start({ profile: profileFile('line-delimited.json', { expect_per_s: 10, stuck_after: 0 }) });
    await log.open();
    for (let i = 0; i < 10; i += 1) device.write('2,0.05,0.01,80\r\n'.repeat(50));
    await until('all in', () => here.counts().messages === 500);
    await until('flooding', () => log.states().includes('flooding'));
    expect(log.readings().length).toBe(500 - here.counts().flooded);
    // 100 a second are read, and a second's worth of a lump.
    expect(here.counts().flooded).toBeGreaterThan(100);
    device.write('2,0.05,0.01,80\r\n');
    await until('over', () => log.states().includes('back'));
  });

  it('a stuck station is said once, its readings are not used, and it is welcomed back', async () => {
    const device = await world.plug();
    start({ profile: profileFile('line-delimited.json', { stuck_after: 5 }) });
    await log.open();
    for (let i = 0; i < 9; i += 1) device.write('2,0.05,0.01,80\r\n');
    device.write('2,0.06,0.01,80\r\n');
    await until('change', () => log.readings().includes('2:0.06'));
    expect(log.readings()).toEqual(['2:0.05', '2:0.05', '2:0.05', '2:0.05', '2:0.06']);
    expect(log.states()).toEqual(['attached', 'silent', 'back']);
    expect(log.details()).toContain('stuck');
  });

  it('one stuck station among live ones is said once, and the live ones go on', async () => {
    const device = await world.plug();
    start({ profile: profileFile('line-delimited.json', { stuck_after: 4 }) });
    await log.open();
    for (let i = 0; i < 8; i += 1) device.write(`2,0.05,0.01,80\r\n3,0.0${i},0.01,80\r\n`);
    device.write('2,0.06,0.01,80\r\n');
    await until('change', () => log.readings().includes('2:0.06'));
    expect(log.readings().filter((r) => r.startsWith('2:'))).toEqual(['2:0.05', '2:0.05', '2:0.05', '2:0.06']);
    expect(log.readings().filter((r) => r.startsWith('3:')).length).toBe(8);
    expect(log.states()).toEqual(['attached', 'silent', 'back']);
  });

  it('a station that is not in the job is refused and told, the rest of the line is used', async () => {
    const device = await world.plug();
    start({ stations: ['1', '2', '3'] });
    await log.open();
    device.write('9,0.05,,80\r\n2,0.05,,80\r\n');
    await until('reading', () => log.readings().length === 1);
    expect(log.readings()).toEqual(['2:0.05']);
    expect(log.events.find((e) => e.kind === 'refused')).toMatchObject({
      line: '9,0.05,,80',
      why: 'station: station 9 is not in the job',
    });
  });

  it('a spark is held back, a plate that slipped is seen at its second repeat', async () => {
    const device = await world.plug();
    start();
    await log.open();
    device.write('2,0.05,,80\r\n2,3.05,,80\r\n2,0.06,,80\r\n2,2.0,,80\r\n2,2.1,,80\r\n2,2.2,,80\r\n');
    await until('last', () => log.readings().includes('2:2.2'));
    expect(log.readings()).toEqual(['2:0.05', '2:0.06', '2:2.1', '2:2.2']);
    expect(log.refused()).toEqual(['jump', 'jump']);
  });

  it('never lets an escape sequence through to whoever shows it', async () => {
    const device = await world.plug();
    start();
    await log.open();
    device.write('\u001b]0;owned\u0007\u001b[2J,1,2,3\r\n2,\u001b[31m,0,80\r\n\u009b2J\u202e,0,0,80\r\n');
    await until('three refused', () => log.refused().length === 3);
    expect(JSON.stringify(log.events)).not.toMatch(/\\u00|[^\x20-\x7e]/);
    expect(log.events.find((e) => e.kind === 'refused')).toMatchObject({ line: '<1B>]0;owned<07><1B>[2J,1,2,3' });
  });

  it('asks a polled sensor, takes off its echo, counts time-outs, sends what starts and stops it', async () => {
    const device = await world.plug();
    const profile = profileFile('query.json', {
      talk: { mode: 'poll', command: 'FETC:REG?\n', every_ms: 30, timeout_ms: 60, echo: true },
    });
    let heard = '';
    let answers = 0;
    device.onHeard((text) => {
      heard += text;
      while (heard.includes('\n')) {
        const line = heard.slice(0, heard.indexOf('\n') + 1);
        heard = heard.slice(line.length);
        all.push(line.trim());
        if (line !== 'FETC:REG?\n') continue;
        answers += 1;
        if (answers === 3) continue;
        device.write(`FETC:REG?\n${answers}0000,0.00${answers},0,1,0,0,1,0,0,1\n`);
      }
    });
    const all: string[] = [];
    const here = start({ profile });
    await until('answers', () => log.readings().length >= 9);
    expect(all.slice(0, 3)).toEqual(['*CLS', 'SENS:MODE CONT', 'FETC:REG?']);
    expect(
      log
        .readings()
        .filter((r) => r.startsWith('2:'))
        .slice(0, 3),
    ).toEqual(['2:0.0254', '2:0.0508', '2:0.1016']);
    expect(log.events.find((e) => e.kind === 'readings')).toMatchObject({ counter_m: 1 });
    expect(here.counts().timeouts).toBe(1);
    expect(log.refused()).toEqual([]);
    await here.close();
    await until('stop sent', () => all.at(-1) === 'SENS:MODE OFF');
  });

  it('reads registers over Modbus RTU; a wrong CRC, an exception, half an answer and none are refused and counted', async () => {
    const device = await world.plug();
    const file = profileFile('modbus-rtu.json');
    const good = Buffer.from((file.examples[0]?.hex ?? '').replaceAll(' ', ''), 'hex');
    const wrong = Buffer.from(good);
    wrong[7] = (wrong[7] ?? 0) ^ 1;
    const exception = Buffer.from('1183020134'.slice(0, 6), 'hex');
    const { withCheckValue } = await import('../../src/devices/check-value.js');
    const exceptionFrame =
      file.checksum === undefined ? '' : withCheckValue(file.checksum, file.frame, exception.toString('latin1')).body;
    const answers = [good, wrong, Buffer.from(exceptionFrame, 'latin1'), good.subarray(0, 9), null, good];
    const asked: string[] = [];
    device.onHeard((text) => {
      asked.push(Buffer.from(text, 'latin1').toString('hex'));
      const answer = answers.shift();
      if (answer === null || answer === undefined) return;
      device.write(answer.subarray(0, 5));
      setTimeout(() => device.write(answer.subarray(5)), 5);
    });
    const here = start({
      profile: {
        ...file,
        talk: { mode: 'modbus-rtu', unit: 17, table: 'holding', first: 0, count: 11, every_ms: 50, timeout_ms: 150 },
      },
    });
    await until('second good answer', () => log.readings().length >= 6);
    expect(log.readings()).toEqual(['2:0.012', '3:-0.105', 'D:null', '2:0.012', '3:-0.105', 'D:null']);
    expect(log.events.find((e) => e.kind === 'readings')).toMatchObject({ counter_m: 1234.5 });
    expect(log.refused()).toEqual(['checksum', 'status', 'half']);
    expect(here.counts()).toMatchObject({ timeouts: 2, refused: { checksum: 1, status: 1, half: 1 } });
    // Unit 17, function 3, from 0, 11 registers, CRC low byte first.
    expect(asked[0]).toMatch(/^11030000000b[0-9a-f]{4}$/);
  });

  it('asks over Modbus ASCII', async () => {
    const device = await world.plug();
    const profile = profileFile('modbus-ascii.json');
    device.onHeard((text) => {
      if (text === ':030400100006E3\r\n') device.write(profile.examples[0]?.line ?? '');
    });
    start({ profile });
    await until('readings', () => log.readings().length >= 2);
    expect(log.readings().slice(0, 2)).toEqual(['2:0.012', '3:-0.105']);
  });

  it('finds its adapter again under another name by its serial number', async () => {
    const device = await world.plug();
    const asked: string[] = [];
    let name = '/dev/ttyUSB0';
    start({
      port: '/dev/ttyUSB0',
      openLine: (path, settings, handlers) => {
        asked.push(path);
        return path === name
          ? world.openLine(path, settings, handlers)
          : Promise.reject(new Error(`No such file or directory, cannot open ${path}`));
      },
      listPorts: async () => [
        { path: name, serial_number: 'A-17', maker: null, usb: null },
        { path: '/dev/ttyUSB9', serial_number: 'B-4', maker: null, usb: null },
      ],
    });
    await log.open();
    name = '/dev/ttyUSB1';
    device.unplug();
    await until('lost', () => log.states().includes('lost'));
    await world.plug();
    await until('back', () => log.states().includes('back'));
    expect(log.details()).toContain('/dev/ttyUSB1 (it was /dev/ttyUSB0)');
  });
});
