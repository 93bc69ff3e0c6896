/**
 * The board on a hand-made view in a real terminal, to look at: `npx tsx tests/ui/look-at-board.ts drifting [--ascii] [--no-color]`.
 * NODE_ENV=production is set before React is loaded, as the program does.
 */
process.env.NODE_ENV ??= 'production';
if (!('withResolvers' in Promise)) {
  Object.defineProperty(Promise, 'withResolvers', {
    value: () => {
      let resolve: unknown;
      let reject: unknown;
      const promise = new Promise((yes, no) => {
        resolve = yes;
        reject = no;
      });
      return { promise, resolve, reject };
    },
  });
}
const fixtures = await import('./fixtures.js');
const { fakePort } = await import('./fake-port.js');
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
const port = fakePort(
  make(),
  process.argv.includes('--read-only') ? { readOnly: 'Bert holds this run since 13:02, on another terminal.' } : {},
);
if (process.argv.includes('--full'))
  port.breakWith('the disk is full. Nothing was written; free some room and press Enter again.');
const board = startBoard(port, {
  ascii: process.argv.includes('--ascii'),
  color: !process.argv.includes('--no-color'),
  mute: process.argv.includes('--mute'),
});
process.on('SIGTERM', () => board.stop());
process.exitCode = await board.finished;
