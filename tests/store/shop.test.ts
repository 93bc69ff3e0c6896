import { mkdirSync, readdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readJob } from '../../src/core/job-file.js';
import { readPress } from '../../src/core/press-file.js';
import type { RecordBody } from '../../src/core/record.js';
import { createRun } from '../../src/store/run-folder.js';
import { openRunLog } from '../../src/store/run-log.js';
import { openShop } from '../../src/store/shop.js';
import { EMPTY_SHOP, indexedRun, usedFile } from '../../src/store/shop-data.js';
import { JOB_TEXT, PRESS_TEXT } from '../core/example-files.js';
import { tempFolder } from './temp-folder.js';

const now = new Date('2026-03-02T09:14:05.120Z');

const opened = async (folder: string) => {
  const shop = await openShop(folder);
  if (!shop.ok) throw new Error(shop.problem.message);
  return shop.value;
};

const makeRun = async (data: string, run: string, at: string, more: readonly RecordBody[]): Promise<void> => {
  const press = readPress(PRESS_TEXT, 'p');
  const job = press.ok ? readJob(JOB_TEXT, 'j', press.value) : press;
  const folder = createRun(data, run);
  if (!press.ok || !job.ok || !folder.ok) throw new Error('example');
  const log = openRunLog(folder.value, () => undefined);
  if (!log.ok) throw new Error(log.problem.message);
  const begin: RecordBody = {
    type: 'begin',
    run,
    press: press.value,
    job: job.value,
    rules: 1,
    program: 'test',
    time_zone: 'UTC',
  };
  for (const body of [begin, ...more]) await log.value.log.append(body, { at, by: 'MK' });
  log.value.log.close();
};

describe('the shop file', () => {
  test('starts empty, remembers, owner only, nothing left beside it', async () => {
    const data = join(tempFolder(), 'data');
    const { shop, said } = await opened(data);
    expect([shop.data(), said]).toEqual([EMPTY_SHOP, null]);
    const entry = { name: 'Line B', path: '/x/press.json', used: now.toISOString() };
    await shop.change(
      (old) => ({
        ...old,
        presses: usedFile(old.presses, entry),
        learned: { 'knob/Line B/4/along': { gain: 0.93, moves: 4 } },
      }),
      now,
    );
    expect(readdirSync(data)).toEqual(['shop.json']);
    expect(statSync(join(data, 'shop.json')).mode & 0o777).toBe(0o600);
    const again = await opened(data);
    expect(again.shop.data()).toEqual({
      ...EMPTY_SHOP,
      presses: [entry],
      learned: { 'knob/Line B/4/along': { gain: 0.93, moves: 4 } },
    });
  });

  test('two programs at once lose nothing of each other', async () => {
    const data = tempFolder();
    const shops = [await opened(data), await opened(data)];
    const changes = Array.from({ length: 20 }, (_, i) =>
      shops[i % 2]?.shop.change((old) => ({ ...old, learned: { ...old.learned, [`gauge/${i}`]: { sigma: i } } }), now),
    );
    for (const change of await Promise.all(changes)) expect(change?.ok).toBe(true);
    expect(Object.keys((await opened(data)).shop.data().learned)).toHaveLength(20);
  });

  test.each([
    '',
    '{',
    '[]',
    'null',
    '{"format":"shop/1"}',
    '{"format":"shop/1","presses":3,"jobs":[],"runs":[],"learned":{}}',
  ])('a damaged one (%j) is kept aside, said, and the index made anew from the logs', async (text) => {
    const data = tempFolder();
    await makeRun(data, 'b', '2026-03-02T09:00:00.000Z', [{ type: 'end', web_m: 10 }]);
    await makeRun(data, 'a', '2026-03-03T09:00:00.000Z', [{ type: 'stop', web_m: 10 }]);
    writeFileSync(join(data, 'shop.json'), text);
    const { shop, said } = await opened(data);
    expect(shop.data().runs).toEqual([
      {
        id: 'b',
        press: 'Line B',
        job: 'plum jam lid',
        begun: '2026-03-02T09:00:00.000Z',
        ended: '2026-03-02T09:00:00.000Z',
      },
      { id: 'a', press: 'Line B', job: 'plum jam lid', begun: '2026-03-03T09:00:00.000Z', ended: null },
    ]);
    expect(said).toBe(
      `${join(data, 'shop.json')} was damaged; it is kept as shop.json.damaged-1, and the list of 2 runs was made anew from their logs. No reading is lost; what was learned of knobs is`,
    );
    expect(readFileSync(join(data, 'shop.json.damaged-1'), 'utf8')).toBe(text);
    await shop.change((old) => old, now);
    expect((await opened(data)).shop.data().runs).toHaveLength(2);
  });

  test('one of a newer program, or a link, is left alone and told', async () => {
    const data = tempFolder();
    writeFileSync(join(data, 'shop.json'), '{"format":"shop/2"}');
    const newer = await openShop(data);
    expect(newer.ok ? '' : newer.problem.message).toContain(
      'was written by a newer holdregister (shop/2; this one knows shop/1)',
    );
    const other = tempFolder();
    symlinkSync(join(data, 'shop.json'), join(other, 'shop.json'));
    const linked = await openShop(other);
    expect(linked.ok ? '' : linked.problem.message).toContain('it is a link; links are not followed here');
    const third = join(tempFolder(), 'file');
    writeFileSync(third, '');
    expect((await openShop(join(third, 'data'))).ok).toBe(false);
    mkdirSync(join(data, 'runs'));
  });

  test('the lists keep their order', () => {
    const entry = (path: string) => ({ name: path, path, used: '' });
    expect(usedFile([entry('a'), entry('b')], entry('b')).map(({ path }) => path)).toEqual(['b', 'a']);
    const run = (id: string, begun: string) => ({ id, begun, press: 'P', job: 'J', ended: null });
    expect(indexedRun([run('x', '2'), run('y', '3')], run('z', '1')).map(({ id }) => id)).toEqual(['z', 'x', 'y']);
    expect(indexedRun([run('x', '2')], { ...run('x', '2'), ended: '5' })).toHaveLength(1);
  });
});
