/**
 * The board in a real terminal, to look at: on a hand-made view, `npx tsx tests/ui/look-at-board.ts drifting [--ascii] [--no-color]`, or at a
 * moment of the shift on the eight-colour press, whose run goes on in memory: `npx tsx tests/ui/look-at-board.ts --moment creeping`.
 * NODE_ENV=production is set before React is loaded, as the program does.
 */
import './before-react.js';

const fixtures = await import('./fixtures.js');
const { fakePort } = await import('./fake-port.js');
const { runPort } = await import('./run-port.js');
const { shiftMoments } = await import('../screens/moments.js');
const { startBoard } = await import('../../src/ui/terminal.js');

const views = {
  quiet: fixtures.quiet,
  drifting: fixtures.drifting,
  reference: fixtures.referenceMoved,
  web: fixtures.webMoved,
  out: fixtures.out,
  sensor: fixtures.sensorLost,
  makeready: fixtures.makeReady,
  pulled: fixtures.pulledTwo,
  ended: fixtures.ended,
};
const name = process.argv[2] ?? 'quiet';
const make = Object.entries(views).find(([key]) => key === name)?.[1] ?? fixtures.quiet;
const moment = shiftMoments().find((one) => one.name === process.argv[process.argv.indexOf('--moment') + 1]);
const port =
  moment !== undefined
    ? runPort(moment.state, moment.at_ms)
    : fakePort(
        make(),
        process.argv.includes('--read-only')
          ? { readOnly: 'Bert holds this run since 13:02, on another terminal.' }
          : {},
      );
if (process.argv.includes('--full'))
  port.breakWith('the disk is full. Nothing was written; free some room and press Enter again.');
if (process.argv.includes('--feed')) feed();
if (process.argv.includes('--running')) run();
const board = startBoard(port, {
  ascii: process.argv.includes('--ascii'),
  color: !process.argv.includes('--no-color'),
  mute: process.argv.includes('--mute'),
});
process.on('SIGTERM', () => board.stop());
process.exitCode = await board.finished;

/** 400 sensor lines a second are split and read; the view changes ten times a second, as the runtime tells at most. */
function feed(): void {
  let n = 0;
  let sum = 0;
  setInterval(() => {
    for (let i = 0; i < 10; i += 1) {
      n += 1;
      const parts = `${n % 7},${(Math.sin(n) * 0.03).toFixed(3)},${(Math.cos(n) * 0.03).toFixed(3)},0.87`.split(',');
      sum += Number(parts[1]);
    }
    if (n % 40 !== 0) return;
    const view = port.view();
    const mm = Number((sum / 40).toFixed(3));
    sum = 0;
    port.set({
      ...view,
      stations: view.stations.map((one, i) =>
        i !== 1 + ((n / 40) % 5) ? one : { ...one, axes: { ...one.axes, along: { ...one.axes.along, last_mm: mm } } },
      ),
    });
  }, 25);
}

/** The press runs: once a second the position is carried on by the clock, as the runtime does it. */
function run(): void {
  setInterval(() => {
    const view = port.view();
    const { web_m, age_s } = view.position;
    port.set({
      ...view,
      position: { ...view.position, web_m: (web_m ?? 0) + 118 / 60, age_s: (age_s ?? 0) + 1 },
      next_check: { why: 'roll off', in_m: 620 - ((age_s ?? 0) * 118) / 60, in_min: 5, overdue: false },
    });
  }, 1000);
}
