import { resolve } from 'node:path';
import { ok, type Result } from '../../core/result.js';
import { openShop } from '../../store/shop.js';
import { indexedRun, usedFile } from '../../store/shop-data.js';

/** Puts the files used and the run begun into the shop file. */
export const rememberUsed = async (
  dataDir: string,
  run: string,
  names: { readonly press: string; readonly job: string },
  files: { readonly press: string; readonly job: string },
  now: Date,
): Promise<Result<null>> => {
  const opened = await openShop(dataDir);
  if (!opened.ok) return opened;
  const used = now.toISOString();
  const changed = await opened.value.shop.change(
    (data) => ({
      ...data,
      presses: usedFile(data.presses, { name: names.press, path: resolve(files.press), used }),
      jobs: usedFile(data.jobs, { name: names.job, path: resolve(files.job), used }),
      runs: data.runs.some(({ id }) => id === run)
        ? data.runs
        : indexedRun(data.runs, { id: run, ...names, begun: used, ended: null }),
    }),
    now,
  );
  return changed.ok ? ok(null) : changed;
};
