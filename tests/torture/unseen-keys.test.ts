import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { CLI, logOf, onScreen, runningPress } from '../end-to-end/program.js';
import { TestTerminal } from '../support/terminal.js';

const open: TestTerminal[] = [];
afterEach(async () => {
  for (const one of open.splice(0)) await one.close();
});

const boardOn = async (data: string, size: { columns?: number; rows?: number; env?: Record<string, string> } = {}) => {
  const board = new TestTerminal({
    command: process.execPath,
    args: [CLI, '--by', 'MK'],
    ...size,
    env: { HOLDREG_DATA: data, ...size.env },
  });
  open.push(board);
  return board;
};

const folderOf = (data: string): string => join(data, 'runs', readdirSync(join(data, 'runs'))[0] ?? '');

describe('keys that nobody could see the effect of', () => {
  it('the board opened in 40 by 12 takes no key but q', async () => {
    const data = runningPress();
    const before = logOf(data).length;
    const board = await boardOn(data, { columns: 40, rows: 12 });
    await board.waitFor('no key acts');
    board.type('x\re\ryes\rp');
    board.resize(80, 24);
    await board.waitFor('along +ahead');
    board.type('nseen\r');
    await board.waitFor('Noted.');
    expect(
      logOf(data)
        .slice(before)
        .map((r) => r.type),
    ).toEqual(['note']);
    board.resize(40, 12);
    await board.waitFor('no key acts');
    board.type('q');
    await board.waitFor('Leave the board');
    board.press('enter');
    expect((await board.exited).code).toBe(0);
  }, 60_000);

  it('pasted onto the board is dropped, in a field it fills it; bracketed paste is turned off on leaving', async () => {
    const data = runningPress();
    const before = logOf(data).length;
    const board = await boardOn(data);
    await board.waitFor('along +ahead');
    await board.waitFor(() => board.raw.includes('\u001B[?2004h'));
    const mail = 'y\rx\re\rno further shift change\rq\r';
    for (let i = 0; i < 5; i += 1) board.type(`\u001B[200~${mail}\u001B[201~`);
    await board.waitFor('Pasted text');
    board.type('n');
    await board.waitFor('Put this note');
    board.type(`\u001B[200~${mail}\u001B[201~`);
    await board.waitFor('y x e no further shift change q');
    expect(logOf(data)).toHaveLength(before);
    board.press('enter');
    await board.waitFor('Noted.');
    expect(logOf(data).slice(before)).toMatchObject([{ type: 'note', text: 'y x e no further shift change q' }]);
    board.type('q');
    await board.waitFor('Leave the board');
    board.press('enter');
    await board.exited;
    expect(board.raw).toContain('\u001B[?2004l');
  }, 60_000);

  it('with CI in the environment the board is drawn all the same', async () => {
    const board = await boardOn(runningPress(), { env: { CI: 'true' } });
    await board.waitFor('along +ahead');
  }, 60_000);

  it('a draft of another version is set aside and said, at one opening only', async () => {
    const data = runningPress();
    const folder = folderOf(data);
    const first = onScreen(data, '--by', 'MK');
    open.push(first);
    await first.waitFor('along +ahead');
    first.type('c');
    await first.waitFor('pulled at');
    first.press('enter');
    await first.waitFor('CHECK');
    first.type('5A');
    await first.waitFor('0.05 AHEAD');
    first.press('enter');
    const text = await kept(join(folder, 'drafts.json'));
    first.kill('SIGKILL');
    const drafts: Record<string, Record<string, unknown>> = JSON.parse(text);
    const odd = JSON.stringify(
      Object.fromEntries(Object.entries(drafts).map(([name, draft]) => [name, { ...draft, rows: { '2': 'newer' } }])),
    );
    writeFileSync(join(folder, 'drafts.json'), odd);
    const second = await boardOn(data);
    await second.waitFor('drafts.json.aside-1 in the folder');
    second.type('c');
    await second.waitFor('CHECK');
    expect(readFileSync(join(folder, 'drafts.json.aside-1'), 'utf8')).toBe(odd);
    second.kill('SIGKILL');
    const third = await boardOn(data);
    const screen = await third.waitFor('along +ahead');
    expect(screen).not.toContain('set aside');
  }, 60_000);
});

/** What stands in a file once there is something of station 2 in it. */
const kept = async (file: string): Promise<string> => {
  for (;;) {
    try {
      const text = readFileSync(file, 'utf8');
      if (text.includes('5A')) return text;
    } catch {
      // Not written yet.
    }
    await new Promise((next) => setTimeout(next, 10));
  }
};
