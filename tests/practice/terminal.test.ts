import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, it } from 'vitest';
import { tallyOf } from '../../src/practice/score.js';
import { practiceView } from '../../src/practice/view.js';
import { LOUPE } from '../../src/ui/practice/loupe.js';
import { TestTerminal } from '../support/terminal.js';
import { measureBack } from './measure-back.js';
import { checks, exerciseOf, typed } from './sessions.js';

/** Practice in a real pseudo-terminal, from source. */
const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const PLAY = ['--import', 'tsx', 'tests/practice/play.ts'];
const open: TestTerminal[] = [];
const folders: string[] = [];

const newData = (): string => {
  const data = mkdtempSync(join(tmpdir(), 'holdreg-practice-'));
  folders.push(data);
  return data;
};

const practice = (data: string, ...args: readonly string[]): TestTerminal => {
  const terminal = new TestTerminal({
    command: process.execPath,
    args: [...PLAY, '--data', data, ...args],
    cwd: ROOT,
  });
  open.push(terminal);
  return terminal;
};

afterEach(async () => {
  for (const one of open.splice(0)) await one.close();
  for (const one of folders.splice(0)) rmSync(one, { recursive: true, force: true });
});

/** Waits for the screen to have taken a line: an empty field, the counter, and what was said last. */
const type = async (terminal: TestTerminal, line: string, shows: string): Promise<string> => {
  terminal.type(`${line}\r`);
  return terminal.waitFor((screen) => screen.includes(shows) && /> ▏$/.test(screen), 30_000);
};

const resultsOf = (data: string): readonly (readonly string[])[] =>
  readFileSync(join(data, 'practice', 'results.csv'), 'utf8')
    .trim()
    .split('\n')
    .map((line) => line.split(','));

/** What a careful student types in the quick game, by what the exercise shows. */
const SCRIPTS: Readonly<Record<string, readonly string[]>> = {
  '2': [
    ...checks(3),
    'again',
    'turn 2 operator 5',
    ...checks(5),
    'name 3 along',
    'turn 3 retard 5',
    ...checks(3),
    'run 500',
  ],
  '3': [
    ...checks(4),
    'name reference',
    'turn 1 retard 11',
    ...checks(3),
    'stop',
    'safe',
    'wash 2',
    'start',
    ...checks(3),
    'run 500',
  ],
  '4': [...checks(5), 'name web', 'tension', ...checks(4), 'run 500'],
  '5': [...checks(2), 'again', 'name misread', ...checks(3), 'turn 4 operator 7', ...checks(4), 'run 500'],
  '6': [
    'on',
    'start',
    'wait',
    'pull',
    'stop',
    'safe',
    'off',
    'turn 1 gear 11',
    'turn 2 retard 2t',
    'turn 3 advance 1t 21',
    'turn 2 retard 18',
    'turn 4 retard 15',
    'turn 2 gear 5',
    'turn 3 gear 11',
    'turn 4 operator 17',
    'turn D retard 26',
    'on',
    'start',
    'wait',
    'pull',
    'ok',
    ...checks(5),
    'stop',
    'safe',
    'off',
    'turn 3 retard 1t',
    'on',
    'start',
    ...checks(3),
    'run 500',
  ],
};

describe('the six exercises by keys', () => {
  it('exercise 1: somebody who knows only what the screen says reads the drawn marks and brings it in', async () => {
    const data = newData();
    const terminal = practice(data, '--student', 'New');
    let screen = await terminal.waitFor('Type pull: a sample is laid');
    expect(terminal.alternate()).toBe(true);
    const turns: string[] = [];
    const readAll = async (): Promise<void> => {
      for (const [label, id] of [
        ['2 plum', '2'],
        ['3 leaf', '3'],
        ['4 black', '4'],
        ['die', 'D'],
      ] as const) {
        screen = await terminal.waitFor(`Loupe: ${label} `);
        expect(screen.split('\n')[0]).toMatch(/^ PRACTICE /);
        const { along, across } = marksOn(screen);
        const words = `read ${hundredths(along, 'A', 'B')} ${hundredths(across, 'O', 'G')}`;
        await type(terminal, words, `${label} read: along`);
        // The rule of the hint: ahead is retarded, behind advanced; operator goes to gear, gear to operator.
        if (Math.abs(along) > 0.15)
          turns.push(`turn ${id} ${along > 0 ? 'retard' : 'advance'} ${Math.round(Math.abs(along) / 0.02)}`);
        if (Math.abs(across) > 0.15)
          turns.push(`turn ${id} ${across > 0 ? 'gear' : 'operator'} ${Math.round(Math.abs(across) / 0.05)}`);
      }
      await type(terminal, 'key', 'keyed.');
    };
    await type(terminal, 'pull', 'Sample pulled: check 1');
    await readAll();
    expect(turns.length).toBe(3);
    for (const turn of turns) await type(terminal, turn, `Turned ${turn.split(' ')[1]} `);
    await type(terminal, 'wait', 'The web ran on to 8 m');
    turns.length = 0;
    await type(terminal, 'pull', 'Sample pulled: check 2');
    await readAll();
    expect(turns).toEqual([]);
    await type(terminal, 'ok', 'OK to run.');
    await type(terminal, 'end', 'Enter: the truth of this exercise');
    terminal.press('enter');
    const exit = await terminal.exited;
    expect(exit.code).toBe(0);
    expect(terminal.raw).toMatch(/PRACTICE: NEW, EXERCISE 1, BRING IT IN/);
    const [header = [], row = []] = resultsOf(data);
    expect(row[header.indexOf('waste_m')]).toBe('8');
    expect(row[header.indexOf('points')]).toBe('100');
  });

  it.each(Object.keys(SCRIPTS))('exercise %s', async (id) => {
    const data = newData();
    const lines = SCRIPTS[id] ?? [];
    const terminal = practice(data, '--lesson', id, '--numbers', '--student', 'Class');
    await terminal.waitFor(' PRACTICE ');
    for (let i = 0; i < lines.length; i += 1) {
      const wanted = typed(exerciseOf(id), lines.slice(0, i + 1));
      const view = practiceView(wanted);
      const words = (view.said.at(-1)?.text ?? '').slice(0, 50);
      terminal.type(`${lines[i]}\r`);
      const screen = await terminal.waitFor(
        (shown) => shown.includes(view.counter) && shown.includes(words) && /> ▏$/.test(shown),
        30_000,
      );
      expect(screen.split('\n')[0]).toMatch(/^ PRACTICE /);
    }
    terminal.press('enter');
    expect((await terminal.exited).code).toBe(0);
    const [header = [], row = []] = resultsOf(data);
    const { waste } = tallyOf(typed(exerciseOf(id), lines).game.world);
    expect(row[header.indexOf('waste_m')]).toBe(String(waste.metres));
    expect(Number(row[header.indexOf('points')])).toBeGreaterThanOrEqual(90);
    // A game never comes near the runs.
    expect(readdirSync(data)).toEqual(['practice']);
    const [page = ''] = readdirSync(join(data, 'practice', 'pages'));
    expect(readFileSync(join(data, 'practice', 'pages', page), 'utf8')).toMatch(/^PRACTICE/);
  });

  it('Ctrl-C leaves the terminal as it was and keeps what was typed', async () => {
    const data = newData();
    const terminal = practice(data, '--lesson', '2');
    await terminal.waitFor(' PRACTICE ');
    await type(terminal, 'next', 'The web ran on to 500 m');
    terminal.press('ctrl-c');
    expect((await terminal.exited).code).toBe(130);
    expect(terminal.alternate()).toBe(false);
    const [game = ''] = readdirSync(join(data, 'practice', 'games'));
    expect(readFileSync(join(data, 'practice', 'games', game), 'utf8')).toMatch(
      /# PRACTICE exercise 2 seed 1[\s\S]*\nnext\n/,
    );
  });

  it('a results file that goes away while playing: the line is told, the page is kept, exit 3', async () => {
    const data = newData();
    const own = mkdtempSync(join(tmpdir(), 'holdreg-practice-'));
    const terminal = practice(data, '--results', join(own, 'class.csv'), '--student', 'Mary');
    await terminal.waitFor('Type pull');
    rmSync(own, { recursive: true });
    await type(terminal, 'end', 'Enter: the truth of this exercise');
    terminal.press('enter');
    expect((await terminal.exited).code).toBe(3);
    expect(terminal.raw).toMatch(/could not write to the results file/);
    expect(terminal.raw).toMatch(/the line it should have held: Mary,1,Bring it in,1,no,0,450,/);
    expect(readdirSync(join(data, 'practice', 'pages')).length).toBe(1);
  });

  it('with a pace the web runs by itself, and a pause holds it', async () => {
    const terminal = practice(newData(), '--lesson', '2', '--pace', '60');
    await terminal.waitFor(/\b[1-9]\d+ m of 6000/);
    const screen = await type(terminal, 'pause', 'Paused.');
    const counter = /(\d+) m of 6000/.exec(screen)?.[1] ?? '';
    await type(terminal, 'name nothing', 'Noted: you say nothing');
    expect(terminal.screen()).toContain(`${counter} m of 6000`);
  });
});

describe('without a terminal', () => {
  const run = (input: string, ...args: readonly string[]) => {
    const done = spawnSync(process.execPath, [...PLAY, ...args], {
      cwd: ROOT,
      input,
      encoding: 'utf8',
      env: { ...process.env, LANG: 'C.UTF-8' },
    });
    return { code: done.status, out: done.stdout, err: done.stderr };
  };

  it('the same commands line by line; a kept game played again ends the same', () => {
    const data = newData();
    const first = run(
      'pull\nturn 2 retard 21\nturn 3 operator 7\nturn 4 advance 31\nwait\npull\nok\nend\n',
      '--data',
      data,
      '--numbers',
      '--student',
      '=Mary, B',
    );
    expect(first.code).toBe(0);
    expect(
      first.out
        .split('\n\n')
        .slice(0, -8)
        .every((part) => part.startsWith('PRACTICE')),
    ).toBe(true);
    const [game = ''] = readdirSync(join(data, 'practice', 'games'));
    const again = run(
      readFileSync(join(data, 'practice', 'games', game), 'utf8'),
      '--data',
      data,
      '--numbers',
      '--format',
      'html',
    );
    expect(again.code).toBe(0);
    const results = readFileSync(join(data, 'practice', 'results.csv'), 'utf8')
      .trim()
      .split('\n');
    expect(results.length).toBe(3);
    expect(results[1]).toMatch(/^"'=Mary, B",1,Bring it in,1,no,100,8,315,/);
    expect(results[2]).toMatch(/^student,1,Bring it in,1,no,100,8,315,/);
    const html = readdirSync(join(data, 'practice', 'pages')).filter((name) => name.endsWith('.html'));
    expect(readFileSync(join(data, 'practice', 'pages', html[0] ?? ''), 'utf8')).toMatch(/<h1>PRACTICE/);
  });

  it('a results file that cannot be written is told before anything is played', () => {
    const data = newData();
    const results = join(data, 'no-such-folder', 'class.csv');
    const said = run('pull\n', '--data', data, '--results', results);
    expect(said.code).toBe(3);
    expect(said.err).toMatch(/could not write to the results file .*class\.csv: it is not there.*Nothing was played/);
    expect(said.out).toBe('');
  });

  it.each([
    [['--lesson', '7'], /--lesson "7" is none of 1, 2/],
    [['--seed', 'x'], /--seed "x" is not a whole number/],
    [['--pace', '-1'], /--pace "-1" is not a number/],
    [['--format', 'pdf'], /--format "pdf" is none of/],
    [['--fault', 'no-such.json'], /cannot read no-such\.json: there is no such file/],
  ] as const)('%s is refused in one line, exit 2, nothing written', (args, says) => {
    const data = newData();
    const said = run('', '--data', data, ...args);
    expect(said.code).toBe(2);
    expect(said.err).toMatch(says);
    expect(said.err.trim().split('\n').length).toBe(1);
    expect(existsSync(join(data, 'practice'))).toBe(false);
  });
});

/** What the loupe on the screen shows, measured from its characters. */
const marksOn = (screen: string): { readonly along: number; readonly across: number } => {
  const rows = screen.split('\n');
  const from = rows.findIndex((row) => row.includes('gear side')) + 1;
  const field = rows.slice(from, from + LOUPE.height).map((row) =>
    row
      .slice(row.indexOf('│') + 1)
      .padEnd(LOUPE.width)
      .slice(0, LOUPE.width),
  );
  const step = Number(/two characters across, is ([\d.]+) mm/.exec(screen)?.[1]);
  return measureBack(field, { mm_per_dot: step / 4, field_mm: 0 });
};

/** As a student types it: whole hundredths and the side. */
const hundredths = (mm: number, plus: string, minus: string): string => {
  const whole = Math.round(Math.abs(mm) * 100);
  return whole === 0 ? '0' : `${whole}${mm > 0 ? plus : minus}`;
};
