import '../ui/before-react.js';
import { Writable } from 'node:stream';

/**
 * Twelve hours of the board in simulated time: one check a minute and ten sensor checks a minute, a key now and then, every frame
 * drawn. Prints the heap after the first and after the last hour, in MB, after a forced collection.
 */
const { render } = await import('ink');
const { createElement } = await import('react');
const { App } = await import('../../src/ui/app.js');
const { createSession } = await import('../../src/ui/session.js');
const { createRowCodes } = await import('../../src/ui/row-codes.js');
const { fakePort } = await import('../ui/fake-port.js');
const { chart, drifting, quiet } = await import('../ui/fixtures.js');

const HOURS = 12;
const PER_HOUR = 60 * 11;
const collect: () => void = (globalThis as { gc?: () => void }).gc ?? (() => undefined);

const codes = createRowCodes();
const out = Object.assign(
  new Writable({
    write: (chunk, _encoding, done) => {
      codes.decode(String(chunk));
      done();
    },
  }),
  { columns: 120, rows: 40, isTTY: true },
);
const look = { ascii: false, color: true, decimal: '.' } as const;
const points: { web_m: number; mm: number; check: number; sensor: boolean; withdrawn: boolean; signal: boolean }[] = [];
const port = fakePort(quiet(), {
  chart: (station, axis) => ({ ...chart(station, axis), points: points.slice(-400), from_m: 0, to_m: 90_000 }),
});
const session = createSession(port, { look, mute: true, pageRows: 36, quit: () => undefined });
const board = render(
  createElement(App, { port, session, look, encode: codes.encode, size: { columns: 120, rows: 40 } }),
  {
    stdout: out as unknown as NodeJS.WriteStream,
    interactive: true,
    incrementalRendering: true,
    exitOnCtrlC: false,
    patchConsole: false,
    maxFps: 1000,
  },
);

const heap: number[] = [];
for (let hour = 0; hour < HOURS; hour += 1) {
  for (let i = 0; i < PER_HOUR; i += 1) {
    const n = hour * PER_HOUR + i;
    points.push({
      web_m: n * 11,
      mm: Math.sin(n) * 0.05,
      check: n,
      sensor: i % 11 !== 0,
      withdrawn: false,
      signal: false,
    });
    if (points.length > 400) points.shift();
    const view = i % 60 < 20 ? drifting() : quiet();
    port.advance(5_400);
    port.set({
      ...view,
      position: { ...view.position, web_m: n * 11 },
      checks_made: n,
      stations: view.stations.map((one) => ({
        ...one,
        axes: { ...one.axes, along: { ...one.axes.along, last_mm: Math.sin(n + one.at_m) * 0.05 } },
      })),
    });
    if (i % 50 === 0) session.key({ char: 'a' });
    if (i % 4 === 0) await new Promise((resolve) => setTimeout(resolve, 0));
  }
  collect();
  await new Promise((resolve) => setTimeout(resolve, 20));
  collect();
  heap.push(process.memoryUsage().heapUsed / 1e6);
}
board.unmount();
process.stdout.write(`${JSON.stringify({ first: heap[0], last: heap[HOURS - 1] })}\n`);
process.exit(0);
