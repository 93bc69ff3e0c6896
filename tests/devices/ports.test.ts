import { afterEach, describe, expect, it } from 'vitest';
import { ports } from '../../src/commands/ports.js';
import { guessProfile } from '../../src/devices/guess-profile.js';
import { openSerialLine } from '../../src/devices/serial-line.js';
import { createSimulatedPress } from '../../src/devices/simulated-press.js';
import { simulatedPty } from '../../src/devices/simulated-pty.js';
import { exampleWeb } from './support/example-web.js';
import { profileFile } from './support/profile-file.js';
import { openPtyPort } from './support/pty-port.js';
import { seeded } from './support/seeded.js';

let ending: (() => void | Promise<void>)[] = [];
afterEach(async () => {
  for (const end of ending.toReversed()) await end();
  ending = [];
});

const run = async (port: string | undefined, options: Parameters<typeof ports>[1]) => {
  let out = '';
  let err = '';
  const code = await ports(
    port,
    options,
    { out: (t) => (out += t), err: (t) => (err += t) },
    new AbortController().signal,
  );
  return { code, out, err };
};

const folder = new URL('../../devices/', import.meta.url).pathname;

/** A press that talks on a real pseudo-terminal all the while. */
const talking = async (name: string, ms = 300): Promise<string> => {
  const press = createSimulatedPress({ web: exampleWeb(), profile: profileFile(name), random: seeded(2) });
  press.setSpeed(120);
  const pty = await simulatedPty(press);
  if (!pty.ok) throw new Error(pty.problem.message);
  const timer = setInterval(() => pty.value.advance(ms), 20);
  ending.push(pty.value.close, () => clearInterval(timer));
  return pty.value.path;
};

describe('holdreg ports', () => {
  it('shows raw bytes beside what was understood', async () => {
    const port = await talking('sentence-xor.json');
    const { code, out } = await run(port, { profile: `${folder}sentence-xor.json`, seconds: '1' });
    expect(code).toBe(0);
    expect(out).toMatch(
      /PJREG,\d+\.\d,2,0,0,\d+,A\*[0-9A-F]{2} +\d+\.\d m {2}2 along \+0\.000 across \+0\.000 strength 0\.\d\d/,
    );
    expect(out).toMatch(/\d+ understood, 0 refused/);
  });
  it('shows why a line is refused, and never an escape sequence', async () => {
    const pty = await openPtyPort();
    ending.push(pty.unplug);
    const timer = setInterval(() => pty.write('2,x,0,80\r\n\u001b[2J,1,1,80\r\n'), 50);
    ending.push(() => clearInterval(timer));
    const { code, out } = await run(pty.path, { profile: `${folder}line-delimited.json`, seconds: '1' });
    expect(code).toBe(1);
    expect(out).toMatch(/2,x,0,80 +refused, number: along is no number/);
    expect(out).toMatch(/<1B>\[2J,1,1,80 +refused, control bytes/);
    expect(out).not.toMatch(/[^\x20-\x7e\n]/);
  });
  it('shows raw bytes without a profile', async () => {
    const port = await talking('block-check.json');
    const { code, out } = await run(port, { seconds: '1' });
    expect(code).toBe(0);
    expect(out).toMatch(/<02>T2 L0\.00 S0\.00 Q\d+<03>/);
  });
  it.each([
    [undefined, { guess: true }, 2, /say which PORT/],
    ['/dev/ttyUSB77', { guess: true, profile: 'x.json' }, 2, /take --profile or --guess away/],
    ['/dev/ttyUSB77', { profile: 'no-such.json' }, 2, /no such profile file/],
    ['/dev/ttyUSB77', { profile: `${folder}query.json` }, 3, /there is no port \/dev\/ttyUSB77/],
    ['/dev/ttyUSB77', { seconds: 'ten' }, 2, /--seconds "ten"/],
    ['/dev/ttyUSB77', { speed: 'fast' }, 2, /--speed "fast"/],
  ] as const)('%s %j: exit %i', async (port, options, code, words) => {
    const got = await run(port, options);
    expect(got.err).toMatch(words);
    expect(got.code).toBe(code);
    expect(got.out).toBe('');
  });
  it('lists ports without failing where there is no udev', async () => {
    const { code, out } = await run(undefined, {});
    expect([0, 1]).toContain(code);
    expect(out).not.toBe('');
  });
});

describe('guessing', () => {
  const names = ['block-check', 'columns', 'line-delimited', 'modbus-ascii', 'modbus-rtu', 'query', 'sentence-xor'];
  const profiles = names.map((name) => ({ name, profile: profileFile(`${name}.json`) }));
  it.each(['line-delimited', 'columns', 'sentence-xor', 'block-check'])(
    'finds the speed and profile of a sensor that speaks %s',
    async (name) => {
      const port = await talking(`${name}.json`);
      const own = profileFile(`${name}.json`).port;
      const open = openSerialLine();
      const guesses = await guessProfile({
        port,
        profiles,
        listenMs: 150,
        ask: false,
        // A pseudo-terminal has no speed: at any but the sensor's own the bytes are spoiled here, as a wire would.
        openLine: (path, settings, handlers) =>
          open(path, settings, {
            ...handlers,
            onData: (chunk) =>
              handlers.onData(settings.baud === own.baud ? chunk : Buffer.from(chunk.map((b) => (b << 3) & 0xf8))),
          }),
      });
      if (!guesses.ok) throw new Error(guesses.problem.message);
      expect(guesses.value[0]).toMatchObject({ name, settings: { baud: own.baud } });
    },
  );
  it('asks only when told to, and then finds a sensor that speaks when asked', async () => {
    const port = await talking('query.json');
    const some = profiles.filter((p) => p.name !== 'modbus-rtu');
    const silent = await guessProfile({ port, profiles: some, listenMs: 60, ask: false });
    expect(silent).toEqual({ ok: true, value: [] });
    const found = await guessProfile({ port, profiles: some, listenMs: 400, ask: true });
    expect(found.ok ? found.value[0]?.name : '').toBe('query');
  });
});
