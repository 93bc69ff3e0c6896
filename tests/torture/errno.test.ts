import { describe, expect, it } from 'vitest';
import { type Disk, realDisk } from '../../src/store/disk.js';
import { diskProblem } from '../../src/store/disk-problem.js';
import { seeded } from '../support/seeded.js';
import { recordsIn } from './ledger.js';
import { checkBody, newFolder, openTestRun } from './open-test-run.js';

/** As Node throws what it has no name for: only the number says what it is. */
const byNumber = (errno: number): Error =>
  Object.assign(new Error(`Unknown system error ${-errno}: Unknown system error ${-errno}, write`), {
    errno: -errno,
    code: `Unknown system error ${-errno}`,
    syscall: 'write',
  });

const NUMBERS = [...Array.from({ length: 133 }, (_, i) => i + 1), 512, 4095];

describe('errors of the disk by number', () => {
  it.each([
    [122, /quota is used up/],
    [116, /network disk was taken away/],
    [123, /not in the drive/],
    [131, /the system refused/],
  ])('number %i is a refusal in words', (errno, words) => {
    const told = diskProblem(byNumber(errno), 'write', '/d/log');
    expect(told.problem.message).toMatch(words);
    expect(told.problem.message).toContain('could not write /d/log');
  });

  it.each(['write', 'sync'] as const)(
    'every number in a %s refuses that entry in words, and the next one is written',
    async (where) => {
      const failing = { errno: 0 };
      const disk: Disk = {
        ...realDisk,
        write: (fd, bytes, from) => {
          if (where === 'write' && failing.errno > 0) throw byNumber(failing.errno);
          return realDisk.write(fd, bytes, from);
        },
        sync: (fd, done) => {
          if (where === 'sync' && failing.errno > 0) setImmediate(done, byNumber(failing.errno));
          else realDisk.sync(fd, done);
        },
      };
      const folder = newFolder();
      const run = await openTestRun(folder, { disk });
      for (const errno of NUMBERS) {
        failing.errno = errno;
        const refused = await run.submit({ type: 'note', web_m: null, text: `refused ${errno}` });
        expect(refused.ok ? 'taken' : refused.problem.message).toMatch(/^could not write /);
        failing.errno = 0;
        const taken = await run.submit({ type: 'note', web_m: null, text: `taken ${errno}` });
        expect(taken.ok ? 'taken' : taken.problem.message).toBe('taken');
        expect(run.trouble()).toBeNull();
      }
      expect(await run.close()).toBe(0);
      const notes = recordsIn(folder).flatMap((r) => (r.type === 'note' ? [r.text] : []));
      expect(notes).toEqual(NUMBERS.map((errno) => `taken ${errno}`));
    },
  );

  it('what is no error of the system at all is a refusal too, and a sensor’s entries wait', async () => {
    const failing = { on: false };
    const disk: Disk = {
      ...realDisk,
      write: (fd, bytes, from) => {
        if (failing.on) throw new TypeError('a fault below');
        return realDisk.write(fd, bytes, from);
      },
    };
    const folder = newFolder();
    const run = await openTestRun(folder, { disk });
    failing.on = true;
    await run.submit((s) => checkBody(s.next_check, 1, seeded(1), 'sensor'), { by: 'sensor', soon: true, keep: true });
    expect(run.trouble()).toMatch(/^NOT SAVED, 1 sensor entry waits: a fault below/);
    failing.on = false;
    expect((await run.submit({ type: 'note', web_m: null, text: 'next' })).ok).toBe(true);
    expect(await run.close()).toBe(0);
    expect(recordsIn(folder)).toHaveLength(4);
  });
});
