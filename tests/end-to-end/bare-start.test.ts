import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { TestTerminal } from '../support/terminal.js';

const CLI = fileURLToPath(new URL('../../dist/cli.js', import.meta.url));
const folders: string[] = [];
afterAll(() => {
  for (const one of folders) rmSync(one, { recursive: true, force: true });
});
const bare = (): TestTerminal => {
  const data = mkdtempSync(join(tmpdir(), 'holdreg-bare-'));
  folders.push(data);
  return new TestTerminal({ command: process.execPath, args: [CLI, '--data', data] });
};

describe('holdreg alone, with no run in progress', () => {
  it('offers to start one, and Enter goes on to the questions of start', async () => {
    const screen = bare();
    await screen.waitFor(/No run is in progress\. Start one now\?/);
    screen.press('enter');
    await screen.waitFor(/press/i);
    screen.press('ctrl-c');
    expect((await screen.exited).code).not.toBe(0);
  });

  it('n leaves, and says how to start one', async () => {
    const screen = bare();
    await screen.waitFor(/Start one now\?/);
    screen.type('n\r');
    expect((await screen.exited).code).toBe(1);
    expect(screen.screen()).toContain('holdreg start press.json job.json');
  });
});
