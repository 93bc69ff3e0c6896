import { openState } from '../../runtime/open-state.js';
import { indexRun } from '../../store/index-run.js';
import { runFolder, runsOf } from '../../store/run-folder.js';
import { openShop } from '../../store/shop.js';
import { indexedRun, type ShopData } from '../../store/shop-data.js';
import { isKept, saveLearned } from '../learned.js';

/**
 * Brings the shop file up to what the logs say, before a run begins: how each run that was open stands now, and what the newest run, and the newest on
 * this press, taught. So nothing hangs on how the program before ended. Answers what could not be done, in words.
 */
export const catchUp = async (dataDir: string, press: string): Promise<readonly string[]> => {
  const runs = runsOf(dataDir);
  if (!runs.ok) return [runs.problem.message];
  if (runs.value.length === 0) return [];
  const opened = await openShop(dataDir);
  if (!opened.ok) return [opened.problem.message];
  const { shop } = opened.value;
  const said: string[] = opened.value.said === null ? [] : [opened.value.said];
  const known = new Map(shop.data().runs.map((entry) => [entry.id, entry]));
  const fresh = runs.value
    .filter((id) => known.get(id)?.ended == null)
    .flatMap((id) => {
      const entry = indexRun(dataDir, id);
      return entry.ok && entry.value !== null ? [entry.value] : [];
    });
  if (fresh.length > 0) {
    const changed = await shop.change(
      (data) => ({
        ...data,
        runs: fresh.reduce<ShopData['runs']>((list, entry) => indexedRun(list, entry), data.runs),
      }),
      new Date(),
    );
    if (!changed.ok) return [...said, changed.problem.message];
  }
  const data = shop.data();
  const newest = [data.runs.at(-1), data.runs.filter((entry) => entry.press === press).at(-1)];
  for (const entry of new Set(newest)) {
    if (entry === undefined || isKept(data, entry) || !runs.value.includes(entry.id)) continue;
    const folder = runFolder(dataDir, entry.id);
    const state = folder.ok ? openState(folder.value, 'look') : folder;
    if (!state.ok) said.push(`run ${entry.id} teaches nothing: ${state.problem.message}`);
    else if (state.value.state !== null) {
      const saved = await saveLearned(dataDir, state.value.state);
      if (!saved.ok) said.push(saved.problem.message);
    }
  }
  return said;
};
