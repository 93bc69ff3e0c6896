import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { CLI, onScreen, runningPress } from '../end-to-end/program.js';
import { TestTerminal } from '../support/terminal.js';

/** The one program that a shell runs. */
const childOf = (pid: number): number =>
  Number(readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').trim().split(' ')[0]);

const inShell = (data: string, ...args: readonly string[]): TestTerminal =>
  new TestTerminal({
    command: '/bin/bash',
    args: ['--norc', '--noprofile', '-i'],
    env: { HOLDREG_DATA: data, PS1: 'shell> ', HISTFILE: '/dev/null', START: args.join(' ') },
  });

describe.skipIf(process.platform === 'win32')('stopped and told to go on', () => {
  it('the shell has its terminal as it was, and with fg the board is drawn whole and takes keys', async () => {
    const data = runningPress();
    const shell = inShell(data, `'${process.execPath}'`, `'${CLI}'`, '--by', 'MK');
    await shell.waitFor('shell>');
    shell.type('eval $START\r');
    const before = await shell.waitFor('along +ahead');
    expect(shell.alternate()).toBe(true);
    process.kill(childOf(shell.pid), 'SIGTSTP');
    await shell.waitFor(/Stopped/);
    expect(shell.alternate()).toBe(false);
    expect(shell.raw.slice(-2000)).toContain('\u001b[?2004l');
    // Echo and lines are back: what is typed is seen and run.
    shell.type('echo to"ge"ther; stty -a | grep -o " icanon"\r');
    await shell.waitFor(/^together$/m);
    await shell.waitFor(/^ ?icanon$/m);
    shell.type('fg\r');
    const after = await shell.waitFor('along +ahead');
    expect(shell.alternate()).toBe(true);
    expect(after.split('\n').slice(3)).toEqual(before.split('\n').slice(3));
    shell.type('n');
    await shell.waitFor('Put this note');
    shell.press('esc');
    await shell.waitFor('along +ahead');
    shell.type('q');
    await shell.waitFor(/[Ll]eave/);
    shell.press('enter');
    await shell.waitFor((screen) => !shell.alternate() && screen.includes('shell>'));
    shell.type('exit\r');
    await shell.exited;
  });

  it('a board that was stopped without being asked is drawn anew', async () => {
    const board = onScreen(runningPress(), '--by', 'MK');
    await board.waitFor('along +ahead');
    process.kill(board.pid, 'SIGSTOP');
    const written = board.raw.length;
    process.kill(board.pid, 'SIGCONT');
    await board.waitFor(() => board.raw.slice(written).includes('along +ahead'));
    expect(board.alternate()).toBe(true);
    board.kill('SIGTERM');
    expect((await board.exited).code).toBe(143);
  });
});
