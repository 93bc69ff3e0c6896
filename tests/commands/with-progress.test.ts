import { describe, expect, test } from 'vitest';
import { withProgress } from '../../src/commands/with-progress.js';

/** Reads a log that takes ten seconds, told of every 100 ms; what stderr got. */
const said = async (terminal: boolean, seconds = 10): Promise<string> => {
  const err: string[] = [];
  let now = 0;
  const io = { out: () => {}, err: (text: string) => err.push(text) };
  const answer = await withProgress(
    io,
    (progress) => {
      for (; now < seconds * 1000; now += 100) progress(now / (seconds * 1000));
      return 'read';
    },
    terminal,
    () => now,
  );
  expect(answer).toBe('read');
  return err.join('');
};

describe('reading a long log', () => {
  test('a terminal is told how much is read and how long it will take, in one line that is taken away', async () => {
    const lines = (await said(true)).split('\r\u001b[K');
    expect(lines[1]).toBe('The log of a long run is being read: 10 %, 9 s left');
    expect(lines.length).toBeLessThan(35);
    expect(lines.at(-1)).toBe('');
  });

  test('a log that is read at once is not spoken of, and a script hears nothing', async () => {
    expect(await said(true, 0.9)).toBe('');
    expect(await said(false)).toBe('');
  });

  test('the line is taken away when the reading ends in a fault', async () => {
    const err: string[] = [];
    const io = { out: () => {}, err: (text: string) => err.push(text) };
    let now = 0;
    const broken = withProgress(
      io,
      (progress) => {
        now = 5000;
        progress(0.5);
        throw new Error('broken');
      },
      true,
      () => now,
    );
    await expect(broken).rejects.toThrow('broken');
    expect(err.at(-1)).toBe('\r\u001b[K');
  });
});
