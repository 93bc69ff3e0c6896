import { mkdirSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { dataDir } from '../../src/store/data-dir.js';
import { createRun, freeRunId, runFolder, runsOf } from '../../src/store/run-folder.js';
import { tempFolder } from './temp-folder.js';

describe('the folder of a run', () => {
  test('made once, owner only, found again, listed', () => {
    const data = join(tempFolder(), 'data');
    expect(runsOf(data)).toEqual({ ok: true, value: [] });
    expect(freeRunId(data, '2026-03-02')).toBe('2026-03-02-1');
    const folder = join(data, 'runs', '2026-03-02-1');
    expect(createRun(data, '2026-03-02-1')).toEqual({ ok: true, value: folder });
    expect(statSync(folder).mode & 0o777).toBe(0o700);
    expect(statSync(join(data, 'runs')).mode & 0o777).toBe(0o700);
    expect(runFolder(data, '2026-03-02-1')).toEqual({ ok: true, value: folder });
    expect(freeRunId(data, '2026-03-02')).toBe('2026-03-02-2');
    expect(runsOf(data)).toEqual({ ok: true, value: ['2026-03-02-1'] });
    const again = createRun(data, '2026-03-02-1');
    expect(again.ok ? '' : again.problem.message).toBe(
      `there is already a run "2026-03-02-1" in ${data}; choose another name`,
    );
    const none = runFolder(data, 'other');
    expect(none.ok ? '' : none.problem.message).toBe(`there is no run "other" in ${data}`);
  });

  test.each([
    '',
    '.',
    '..',
    '../x',
    'a/b',
    'a\\b',
    '/etc',
    'a..b',
    '.hidden',
    'x.',
    'con',
    'NUL.txt',
    'a b',
    'ä',
    'a\u0000b',
    'x'.repeat(65),
  ])('%j is no name of a run', (run) => {
    const data = tempFolder();
    for (const result of [createRun(data, run), runFolder(data, run)]) {
      expect(result.ok ? 'accepted' : result.problem.message).toContain(
        'cannot be the name of a run; use 1 to 64 letters',
      );
    }
    expect(runsOf(data)).toEqual({ ok: true, value: [] });
  });

  test('links are not followed, neither for a run nor for all of them', () => {
    const data = tempFolder();
    const other = tempFolder();
    mkdirSync(join(data, 'runs'));
    symlinkSync(other, join(data, 'runs', 'a'));
    const linked = runFolder(data, 'a');
    expect(linked.ok ? '' : linked.problem.message).toContain('is a link or a file, not a folder');
    expect(runsOf(data)).toEqual({ ok: true, value: [] });
    const second = tempFolder();
    symlinkSync(other, join(second, 'runs'));
    mkdirSync(join(other, 'b'));
    for (const result of [createRun(second, 'a'), runFolder(second, 'b')])
      expect(result.ok ? '' : result.problem.message).toContain('is a link or a file');
  });

  test('a file where the data folder should be', () => {
    const file = join(tempFolder(), 'file');
    writeFileSync(file, '');
    const made = createRun(file, 'a');
    expect(made.ok ? '' : made.problem.message).toContain('a part of its path is a file, not a folder');
  });
});

describe('the data folder', () => {
  test('as given, else by HOLDREG_DATA, else the platform’s', () => {
    expect(dataDir('here', { HOLDREG_DATA: '/there' })).toBe(resolve('here'));
    expect(dataDir(undefined, { HOLDREG_DATA: '/there' })).toBe('/there');
    expect(dataDir(' ', { HOLDREG_DATA: '' })).toMatch(/holdregister$/);
  });
});
