import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { holdreg, JOB, logOf, newData, onScreen, PRESS, runningPress } from './program.js';

describe('a run keyed on the board', () => {
  it('a check keyed is in the log, survives kill -9, and is there when the program starts again', async () => {
    const data = runningPress();
    const board = onScreen(data, '--by', 'MK');
    await board.waitFor(/All holding|Nothing is out/);
    board.type('c');
    await board.waitFor('counter');
    board.type('6500\r');
    await board.waitFor('CHECK 2');
    board.type('5A\r2O\r');
    await board.waitFor('0.05 AHEAD');
    board.press('esc');
    await board.waitFor('half-keyed');
    board.type('c');
    await board.waitFor('0.05 AHEAD');
    for (let i = 0; i < 16; i++) {
      board.press('enter');
      if (/ave check 2: 1 measured/.test(board.screen()) === false) break;
    }
    await board.waitFor((s) => !s.includes('CHECK 2') && s.includes('+0.05'));
    const kept = logOf(data).filter((r) => r.type === 'check');
    expect(kept.at(-1)).toMatchObject({
      check: 2,
      web_m: 1500,
      readings: [expect.objectContaining({ station: '2', along_mm: 0.05, across_mm: 0.02 })],
    });
    board.kill();
    await board.exited;

    const again = onScreen(data, '--by', 'MK');
    await again.waitFor('+0.05');
    again.type('q');
    await again.waitFor(/quit|leave/i);
    again.press('enter');
    expect((await again.exited).code).toBe(0);
    expect(again.alternate()).toBe(false);
    expect(logOf(data).filter((r) => r.type === 'check')).toHaveLength(2);
  });

  it('a second program on the same run says who holds it, and only looks on', async () => {
    const data = runningPress();
    const first = onScreen(data);
    await first.waitFor(/All holding|Nothing is out/);
    const shell = holdreg(data, 'check', '--looked', '--counter', '7000');
    expect(shell.code).toBe(1);
    expect(shell.err).toMatch(/held by .* \(process \d+/);
    const second = onScreen(data);
    await second.waitFor(/held by/);
    second.kill();
    first.kill();
    await Promise.all([first.exited, second.exited]);
  });

  it('SIGTERM leaves the terminal as it was, with code 143', async () => {
    const data = runningPress();
    const board = onScreen(data);
    await board.waitFor(/All holding|Nothing is out/);
    process.kill(board.pid, 'SIGTERM');
    expect((await board.exited).code).toBe(143);
    expect(board.alternate()).toBe(false);
  });
});

describe('from the shell', () => {
  it('one coherent story: checks, a correction, a stop and start, a finished roll, the handover', () => {
    const data = runningPress();
    const steps: readonly (readonly string[])[] = [
      ['roll', 'off', '1', '--counter', '6500'],
      ['check', '2:5A:0', '3:1B:2O', '--counter', '6500', '--roll', '1'],
      ['roll', 'off', '2', '--counter', '8000'],
      ['check', '2:28A:0', '3:0:0', '4:1A', '5:1B', 'D:0', '--counter', '8000', '--roll', '2'],
      ['moved', '2', 'retard', '12', '--counter', '8030'],
      ['stop', '--counter', '8200'],
      ['stop', '--over', '--counter', '8200'],
      ['roll', 'off', '3', '--counter', '9500'],
      ['check', '2:1A:0', '3:0:0', '4:1A', '5:1B', 'D:0', '--counter', '9500', '--roll', '3'],
    ];
    for (const step of steps) {
      const said = holdreg(data, ...step, '--by', 'MK');
      expect([said.code, said.err], step.join(' ')).toEqual([0, '']);
    }
    const report = holdreg(data, 'handover');
    expect(report.code).toBe(0);
    expect(report.out).toMatch(/2 plum/);
    expect(report.out).toMatch(/1 500 m/);
    expect(report.out).toMatch(/labels/);
    expect(report.out).toMatch(/took/);
    expect(report.out).not.toMatch(/no product to hold/i);
  });

  it('a dirty plate, what the flaw on it is, its wash, a clean look; exported and imported it is judged the same', () => {
    const data = runningPress();
    const steps: readonly (readonly string[])[] = [
      ['check', '4:::d:12/40,fill-in,LEADING,same', '--counter', '6500'],
      ['wash', '4', '--counter', '6600'],
      ['check', '--looked', '--clean', '--counter', '8000'],
    ];
    const said = steps.map((step) => holdreg(data, ...step, '--by', 'MK'));
    expect(said.map(({ code, err }) => [code, err])).toEqual(steps.map(() => [0, '']));
    expect(said[0]?.out).toMatch(
      /Graded dirty, 12 flaws in 40 labels\. Fill-in at the leading edge, same place every repeat\./,
    );
    expect(said[0]?.out).toMatch(/Filling in at the leading edge is ink drying in/);
    expect(logOf(data).findLast((r) => r.type === 'check' && r.check === 2)).toMatchObject({
      readings: [
        {
          station: '4',
          plate: 'dirty',
          flaws: 12,
          labels: 40,
          flaw_kind: 'fill-in',
          flaw_edge: 'leading',
          flaw_comes: 'same place',
        },
      ],
    });
    const file = join(data, 'out.csv');
    const csv = holdreg(data, 'export').out;
    expect(csv).toContain('"flaw: fill-in, leading edge, same place"');
    writeFileSync(file, csv);
    const replayed = holdreg(data, 'replay', '--press', PRESS, '--job', JOB, '--json', file);
    expect(replayed.out).toMatch(
      /"type":"plate".*"station":"4","state":"dirty","why":"[^"]*Fill-in at the leading edge/,
    );
  });

  it.each([
    [['check', '2:5', '--counter', '6000'], 2, /side|ahead/i],
    [['check', '9:5A', '--counter', '6000'], 2, /no station "9".*(nearest|the stations are)/],
    [['check', '2:NaN', '--counter', '6000'], 2, /2:NaN/],
    [['check', '2:5A', '--counter', '1e9x'], 2, /counter/],
    [['check', '--counter', '6000'], 2, /STATION|words like/],
    [['check', '4:::dirty:smudge', '--counter', '6000'], 2, /"smudge" is no word for a flaw/],
    [['check', '4:::dirty:s', '--counter', '6000'], 2, /may be speck or same place/],
    [['check', '4:::dirty:3/0', '--counter', '6000'], 2, /"3\/0" is no count of flaws/],
    [['check', '4:::dirty:-3/40', '--counter', '6000'], 2, /"-3\/40" is no count of flaws/],
    [['check', '4:::dirty:1.5/40', '--counter', '6000'], 2, /"1.5\/40" is no count of flaws/],
    [['check', '4:::dirty:3', '--counter', '6000'], 2, /"3" is no count of flaws/],
    [['check', '4:::clean:fill-in', '--counter', '6000'], 2, /building or dirty/],
    [['check', '4:::dirty:h:x', '--counter', '6000'], 2, /at most along, across, plate and flaws/],
    [['moved', '2', 'retrad', '2', '--counter', '6000'], 2, /retard/],
    [['moved', 'D', 'operator', '2', '--counter', '6000'], 2, /fixed/],
    [['roll', 'of', '2', '--counter', '6000'], 2, /off/],
    [['check', '2:5A', '--counter', '4000'], 2, /go back|before/],
    [['handover', '--format', 'pdf'], 2, /md, html, json, txt/],
    [['nonsense'], 2, /unknown command/],
  ] as const)('%j is refused with one clear message and changes nothing', (args, code, words) => {
    const data = runningPress();
    const before = logOf(data).length;
    const said = holdreg(data, ...args);
    expect([said.code, said.out]).toEqual([code, '']);
    expect(said.err).toMatch(words);
    expect(said.err.trim().split('\n').length).toBeLessThanOrEqual(2);
    expect(logOf(data)).toHaveLength(before);
  });

  it('with no run in progress, says how to start one, with code 1', () => {
    const said = holdreg(newData());
    expect(said.code).toBe(1);
    expect(said.err).toMatch(/holdreg start/);
  });

  it('a press file that is not right is refused with file, key and the nearest right key; no run is opened', () => {
    const said = holdreg(newData(), 'start', JOB, PRESS);
    expect(said.code).toBe(2);
    expect(said.err).toMatch(/job\.json/);
  });
});
