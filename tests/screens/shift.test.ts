import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, it } from 'vitest';
import { TestTerminal } from '../support/terminal.js';

/**
 * The shift on the eight-colour press, whose counter stood at 9 400 m at OK to run, by hand on a real pseudo-terminal: the board at one of
 * its moments, the keys an operator presses there, and what the screen then says.
 */
const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const open: TestTerminal[] = [];

async function at(moment: string, columns = 80, rows = 24): Promise<TestTerminal> {
  const terminal = new TestTerminal({
    command: process.execPath,
    args: ['--import', 'tsx', 'tests/ui/look-at-board.ts', '--moment', moment, '--no-color', '--mute'],
    cwd: ROOT,
    columns,
    rows,
  });
  open.push(terminal);
  await terminal.waitFor((screen) => /plum jam lid|This terminal/.test(screen), 30_000);
  return terminal;
}

afterEach(async () => {
  for (const one of open.splice(0)) await one.close();
});

describe('the shift by hand at 80 by 24', { timeout: 60_000 }, () => {
  it('4 grey creeps: counter, speed and clock stand; the knob as advised in two keys, other amounts on the field that is marked', async () => {
    const board = await at('creeping');
    const screen = await board.waitFor('RETARD 4 grey 2 divisions');
    expect(screen.split('\n')[0]).toMatch(/running {2}roll 3 +15 242 m est\. 21 s {2}120 m\/min {2}\d\d:\d\d$/);
    expect(screen).toMatch(/since roll 3 \(14 000 m\), sure\. {2}Out in \d+ min$/m);
    // Eight stations at 80 columns: whole words, and the strip across stands too.
    expect(screen).toMatch(/^state +ref\. +holds +holds +moved +holds +holds +holds +holding +holding$/m);
    expect(screen).toMatch(/^across +0\.00 /m);
    expect(screen).toMatch(/^rolls +1 good {3}2 HELD {3}3 now$/m);
    expect(screen).toContain('creeps +0.04 mm a roll');
    board.type('i');
    expect(await board.waitFor('WHAT MOVED')).toContain('at the limit about 20 ');
    board.press('esc');
    await board.waitFor('? help');
    board.type('k');
    await board.waitFor('You RETARDED 4 grey 2 divisions (0.10 mm) at 15 242 m?');
    board.type('4');
    await board.waitFor('You RETARDED 4 grey 4 divisions (0.20 mm) at 15 242 m?');
    board.press('backspace');
    await board.waitFor((now) => !now.includes('4 divisions (0.20 mm)'));
    board.type('2\r');
    const turned = await board.waitFor('SAMPLE from 15 25');
    expect(turned).not.toMatch(/▶ RETARD/);
    expect(turned).toMatch(/^\S.*\n.*next check: /);
    expect(board.scrolledRows()).toBe(0);
  });

  it('6 cream was misread: a doubt stays beside the reading; the second label goes onto the same sample and ends its hold', async () => {
    const board = await at('misread');
    await board.waitFor('READ 6 cream AGAIN, on a second label of the sample; turn nothing yet');
    board.type('i');
    const held = await board.waitFor('PRODUCT TO HOLD');
    expect(held).toContain('Hold finished roll 2: 12 700 m to now');
    expect(held.replace(/\s+/g, ' ')).toContain('For 6 cream along. It ends when 6 cream reads good along.');
    board.press('esc');
    await board.waitFor('? help');
    board.type('c');
    await board.waitFor('CHECK 8: SECOND LABEL of sample 7, 13 300 m');
    board.type('942B\r');
    await board.waitFor('? 9.42 BEHIND');
    board.type('0\r');
    const kept = await board.waitFor('0.00');
    expect(kept).toContain('? 9.42 BEHIND');
    board.press('up');
    board.type('1A\r');
    await board.waitFor('0.01 AHEAD');
    board.press('end');
    board.type('\r');
    const said = await board.waitFor('most likely misread');
    expect(said.replace(/\s+/g, ' ')).toContain('Its hold ends there; decide on what it holds.');
    board.press('esc');
    const after = await board.waitFor('DECIDE on finished roll 2: 12 700 m to 13 300 m');
    expect(after).not.toContain('product on hold');
  });

  it('4 grey is out and a plate dirty: one list, worst first; the large letters; w opens on the plate that asks; t fits', async () => {
    const board = await at('out-and-dirty');
    const list = (await board.waitFor('WASH 5 black')).split('\n').filter((line) => /▶|HOLD f|DECIDE/.test(line));
    expect(list.map((line) => line.trim().slice(0, 13))).toEqual([
      '▶ RETARD 4 gr',
      '▶ WASH 5 blac',
      'DECIDE on fin',
      'HOLD finished',
    ]);
    board.type('f');
    await board.waitFor('then: WASH 5 black: plate dirty 20/40');
    board.type('w');
    await board.waitFor(/▶ .*5 black/);
    board.press('esc');
    board.type('t');
    const form = await board.waitFor('MK hands over to nobody?');
    expect(form).toContain('Enter yes, change it, or Esc.  Tab next field, left and right choose');
    for (const line of form.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  });

  it('two samples wait: c opens the newest, and one pulled by mistake is thrown away', async () => {
    const board = await at('two-pulled');
    await board.waitFor('samples 15, 16 to key: c');
    board.type('c');
    await board.waitFor('CHECK 16 off roll 4');
    board.press('end');
    board.type('\r\r');
    await board.waitFor('Sample 16 thrown away, not read.');
    board.type('c');
    await board.waitFor('CHECK 15 off roll 4, 15 845 m  shows the old setting of 4 grey');
  });

  it('the reference was turned: the old advice stands no more, the next check is the sample that tells', async () => {
    const board = await at('reference-turned');
    const screen = await board.waitFor('SAMPLE from 20 617 m on: tells what the turn of 1 opaque white did');
    expect(screen).not.toContain('RETARD');
    expect(screen).toContain('next check: the sample from 20 617 m on, now');
    // On one's own, not advised: what was turned is known of.
    board.type('k');
    await board.waitFor('divisions');
    board.press('esc');
  });

  it('an estimate gives way to the counter that is read; what was keyed does not, and the refusal says what to press', async () => {
    const board = await at('counter-set-anew');
    await board.waitFor('642 m est.');
    board.type('v');
    await board.waitFor('counter');
    board.type('630\r');
    await board.waitFor(/ 630 m/);
    board.type('v');
    await board.waitFor('Enter yes');
    board.type('610\r');
    const refused = await board.waitFor('would go back');
    expect(refused.replace(/\s+/g, ' ')).toContain('610 m would go back: the counter was keyed at 630 m before.');
    expect(refused.replace(/\s+/g, ' ')).toContain('press v and choose "set anew"');
  });

  it('a full check is due after a new plate, and tension is told on one key', async () => {
    const board = await at('new-plate');
    await board.waitFor('FULL CHECK DUE: new plate on 7 berry');
    board.type('y');
    await board.waitFor(/[Tt]ension/);
    board.press('enter');
    await board.waitFor(/Tension changed|tension/);
  });
});

it('at 60 by 15 what to do stands whole, and no key acts', async () => {
  const board = await at('overdue', 60, 15);
  const screen = await board.waitFor('CHECK OVERDUE by 300 m');
  expect(screen).toContain('RETARD 4 grey 5 divisions (0.25 mm): knob anticlockwise');
  expect(screen).toContain('WASH 5 black: plate dirty 20/40, press stopped and made safe');
  expect(screen.replace(/\s+/g, ' ')).toContain(
    'Hands out of the press, guards closed. Press manual and site rules first.',
  );
  board.type('k');
  board.resize(80, 24);
  expect(await board.waitFor('? help')).toContain('RETARD 4 grey 5 divisions');
}, 60_000);
