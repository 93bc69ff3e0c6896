import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { holdreg, JOB, logOf, newData, onScreen, PRESS } from './program.js';

/** The demo press as a set-up by questions leaves it: no knob measured. */
const unmeasured = (): string => {
  const press = JSON.parse(readFileSync(PRESS, 'utf8'));
  press.knobs = { along: { to_advance: 'clockwise' } };
  for (const station of press.stations) {
    delete station.along;
    delete station.across;
  }
  return JSON.stringify(press);
};

it('a knob is measured in make-ready with the keys alone, outlives kill -9 half way, and yesterday’s press knows it', async () => {
  const data = newData();
  const file = join(data, 'setup', 'press-line-b.json');
  mkdirSync(join(data, 'setup'));
  writeFileSync(file, unmeasured());
  const board = onScreen(data, 'start', file, JOB, '--by', 'MK');
  await board.waitFor('make-ready');
  board.type('2d');
  await board.waitFor('It must be read first');
  board.press('esc');
  await board.waitFor('? help');
  board.type('c');
  await board.waitFor('counter, m');
  board.type('4000\r');
  await board.waitFor('CHECK 1');
  board.type('1A\r2O\r0\r0\r');
  await board.waitFor('0.02 OPERATOR SIDE');
  board.press('end');
  board.press('enter');
  await board.waitFor((s) => !s.includes('CHECK 1') && s.includes('+0.02'));
  board.type('2d');
  await board.waitFor('the way marked');
  expect(board.screen().replace(/\s+/g, ' ')).toContain(
    'Measure the knob of 2 plum along: turn it 10 divisions the way marked ADVANCE. Turned, at 4 000 m? Before it: check 1, +0.01 mm.',
  );
  board.press('enter');
  // Sample place 13 m, station 2 at 2.7 m: 10.3 m further on.
  await board.waitFor('Pull a sample from 4 010 m on and read 2 plum along.');
  board.kill();
  await board.exited;

  const again = onScreen(data, '--by', 'MK');
  await again.waitFor('Pull a sample from 4 010 m on');
  again.type('v');
  await again.waitFor('was read');
  again.type('4030\r');
  await again.waitFor('4 030 m');
  again.type('c');
  await again.waitFor('CHECK 2');
  again.type('23B\r2O\r0\r0\r');
  await again.waitFor('0.02 OPERATOR SIDE');
  again.press('end');
  again.press('enter');
  await again.waitFor('what the turn of 2 plum says of its knob');
  again.type('d');
  // 0.24 mm for ten divisions, read to 0.03 mm: 1.96 × 0.03 × √2 ÷ 10 = 0.0083 either way.
  await again.waitFor((s) =>
    s
      .replace(/\s+/g, ' ')
      .includes(
        "One division of 2 plum's knob moves the print 0.024 mm along (0.016 to 0.032): the mark says the opposite. Record it?",
      ),
  );
  again.press('enter');
  await again.waitFor('Knob of 2 plum measured. To bring it back: 10 the way marked RETARD');
  await again.waitFor(/ADVANCE 2 plum 10 divisions/);
  expect(again.screen()).toContain('marked "retard"');
  again.type('q');
  await again.waitFor(/quit|leave/i);
  again.press('enter');
  expect((await again.exited).code).toBe(0);

  expect(logOf(data).map(({ type }) => type)).toEqual([
    ...['begin', 'pull', 'check', 'correction', 'position', 'pull', 'check'],
    ...['knob', 'withdraw', 'correction'],
  ]);
  expect(holdreg(data, 'verify').code).toBe(0);
  expect(JSON.parse(readFileSync(file, 'utf8')).stations[1].along).toEqual({
    division_mm: 0.024,
    sense: -1,
    to_advance: 'anticlockwise',
  });
  const next = holdreg(data, 'start', file, JOB, '--by', 'MK', '--run', 'tomorrow');
  expect([next.code, next.err]).toEqual([0, '']);
  const moved = holdreg(data, 'moved', '2', 'advance', '5', '--counter', '100');
  expect([moved.code, moved.err]).toEqual([0, '']);
});
