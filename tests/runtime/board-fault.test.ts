import { expect, it, vi } from 'vitest';
import { newFolder, openTestRun } from '../torture/open-test-run.js';

const fault = { on: false };
vi.mock('../../src/core/views/board.js', async (original) => {
  const real = await original<typeof import('../../src/core/views/board.js')>();
  return {
    ...real,
    boardView: (...given: Parameters<typeof real.boardView>) => {
      if (fault.on) throw new Error('no such movement');
      return real.boardView(...given);
    },
  };
});

it('a fault in working the board out leaves the last one standing, says so, and entries are taken', async () => {
  const runtime = await openTestRun(newFolder());
  const before = runtime.board();
  fault.on = true;
  const wrote = await runtime.submit({ type: 'note', web_m: null, text: 'still here' });
  expect(wrote.ok).toBe(true);
  const after = runtime.board();
  expect(after.trouble).toMatch(
    /^A FAULT in the program: this stands still since .*; the log is sound \(no such movement\)$/,
  );
  expect({ ...after, trouble: null }).toEqual({ ...before, trouble: null });
  fault.on = false;
  await runtime.submit({ type: 'note', web_m: null, text: 'and on' });
  expect(runtime.board().trouble).toBe(null);
  await runtime.close();
});
