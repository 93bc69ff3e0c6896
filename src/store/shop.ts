import { existsSync, mkdirSync, renameSync } from 'node:fs';
import { basename, join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { Low } from 'lowdb';
import { fail, ok, type Result } from '../core/result.js';
import { diskProblem } from './disk-problem.js';
import { indexRun } from './index-run.js';
import { jsonFile } from './json-file.js';
import { takeLock } from './lock.js';
import { runsOf } from './run-folder.js';
import { EMPTY_SHOP, type RunEntry, type ShopData, shopSchema } from './shop-data.js';

/** The shop file, `shop.json` in the data folder. */
export type Shop = {
  data(): ShopData;
  /** Reads the file anew, changes it and writes it whole; several programs may do so at once. */
  change(update: (data: ShopData) => ShopData, now: Date): Promise<Result<ShopData>>;
};

export type OpenedShop = {
  readonly shop: Shop;
  /** What was wrong with the file and done about it, in words, or null. */
  readonly said: string | null;
};

/**
 * Opens the shop file. One that is damaged is kept aside under another name, and the index of runs is made anew from the runs' logs, as it is when
 * there is no file; only what was learned and the lists of files last used start empty.
 */
export const openShop = async (dataDir: string): Promise<Result<OpenedShop>> => {
  const path = join(dataDir, 'shop.json');
  const db = new Low<unknown>(jsonFile(path), null);
  try {
    mkdirSync(dataDir, { recursive: true, mode: 0o700 });
    const read = await readShop(db, path);
    if (!read.ok) return read;
    if (read.value !== 'none' && read.value !== 'damaged')
      return ok({ shop: shopOf(dataDir, db, path, read.value), said: null });
    const aside = read.value === 'damaged' ? keepAside(path) : null;
    const runs = rebuiltIndex(dataDir);
    if (!runs.ok) return runs;
    const said =
      aside === null
        ? null
        : `${path} was damaged; it is kept as ${basename(aside)}, and the list of ${runs.value.length} runs was made anew from their logs. No reading is lost; what was learned of knobs is`;
    return ok({ shop: shopOf(dataDir, db, path, { ...EMPTY_SHOP, runs: [...runs.value] }), said });
  } catch (error) {
    return diskProblem(error, 'open', path);
  }
};

const shopOf = (dataDir: string, db: Low<unknown>, path: string, first: ShopData): Shop => {
  let data = first;
  return {
    data: () => data,
    change: async (update, now) => {
      const lock = await lockShop(dataDir, now);
      if (!lock.ok) return lock;
      try {
        const read = await readShop(db, path);
        if (!read.ok) return read;
        if (read.value === 'damaged') keepAside(path);
        const changed = shopSchema.parse(update(typeof read.value === 'string' ? data : read.value));
        db.data = changed;
        await db.write();
        data = changed;
        return ok(data);
      } catch (error) {
        return diskProblem(error, 'write', path);
      } finally {
        lock.value();
      }
    },
  };
};

const readShop = async (db: Low<unknown>, path: string): Promise<Result<ShopData | 'none' | 'damaged'>> => {
  db.data = null;
  try {
    await db.read();
  } catch (error) {
    if (error instanceof SyntaxError) return ok('damaged');
    return diskProblem(error, 'read', path);
  }
  if (db.data === null) return ok(existsSync(path) ? 'damaged' : 'none');
  const read = shopSchema.safeParse(db.data);
  if (read.success) return ok(read.data);
  const format: unknown = typeof db.data === 'object' ? Reflect.get(db.data, 'format') : null;
  if (typeof format === 'string' && /^shop\/([2-9]|\d\d+)$/.test(format))
    return fail(
      `${path} was written by a newer holdregister (${format}; this one knows shop/1): use the newer program, or move the file away`,
      path,
    );
  return ok('damaged');
};

const keepAside = (path: string): string => {
  for (let number = 1; ; number += 1) {
    const aside = `${path}.damaged-${number}`;
    if (existsSync(aside)) continue;
    renameSync(path, aside);
    return aside;
  }
};

const rebuiltIndex = (dataDir: string): Result<readonly RunEntry[]> => {
  const runs = runsOf(dataDir);
  if (!runs.ok) return runs;
  const entries = runs.value
    .map((run) => indexRun(dataDir, run))
    .flatMap((entry) => (entry.ok && entry.value !== null ? [entry.value] : []));
  return ok(entries.toSorted((a, b) => (a.begun < b.begun ? -1 : 1)));
};

/** The data folder's own lock is only ever held for a moment. */
const lockShop = async (dataDir: string, now: Date): Promise<Result<() => void>> => {
  for (let attempt = 0; attempt < 100; attempt += 1) {
    const lock = takeLock(dataDir, now);
    if (!lock.ok) return lock;
    if (!lock.value.held) return ok(lock.value.release);
    await wait(10);
  }
  return fail(`${join(dataDir, 'shop.json')} is being written by another program; try again`, dataDir);
};
