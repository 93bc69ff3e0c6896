import { join, resolve, sep } from 'node:path';
import { AXES, type Axis } from '../../core/axis.js';
import type { Hand, Knob } from '../../core/press.js';
import type { PressFile } from '../../core/press-schema.js';
import { knobOf } from '../../core/run/knob-of.js';
import type { RunState } from '../../core/run/state.js';
import { openShop } from '../../store/shop.js';
import type { ShopData } from '../../store/shop-data.js';
import { keptMeasured } from '../learned.js';
import { knownPress } from './known-setups.js';
import { writeSetupFile } from './setup-file.js';

/**
 * Puts knobs that were measured in a run into its press file, when that is one the set-up wrote, so that the next run has them from the start; what was
 * taken back comes out again. Says what was written, or what to write into a file that is not ours. A knob of which the file says something else by now is
 * left alone. To be called before the run's lessons are kept: it goes by what was kept of this run before.
 */
export const writeMeasured = async (dataDir: string, state: RunState): Promise<readonly string[]> => {
  const shop = await openShop(dataDir);
  if (!shop.ok) return [];
  const data = shop.value.shop.data();
  const used = data.presses.find(({ name }) => name === state.press.name);
  const found = used === undefined ? null : knownPress(used);
  if (used === undefined || found?.ok !== true || found.value.press.name !== state.press.name) return [];
  const changes = found.value.press.stations.flatMap(({ id, knobs }) =>
    AXES.flatMap((axis) => changeOf(data, state, id, axis, knobs[axis])),
  );
  if (changes.length === 0) return [];
  const words = changes.map(({ id, axis, knob }) => `station "${id}", ${JSON.stringify({ [axis]: knob })}`).join('; ');
  if (!resolve(used.path).startsWith(join(resolve(dataDir), 'setup') + sep))
    return [`what was measured is kept; the press file ${used.path} should say it: ${words}`];
  const wrote = await writeSetupFile(used.path, changed(found.value.file, changes));
  return [wrote.ok ? `written into ${used.path}: ${words}` : wrote.problem.message];
};

type Written = {
  readonly division_mm?: number;
  readonly sense: 1 | -1;
  readonly to_advance?: Hand;
  readonly to_operator?: Hand;
};
type Change = { readonly id: string; readonly axis: Axis; readonly knob: Written };

/** What the file is to say of one knob; nothing where it says it already, or where it is no longer what this run knows of it. */
const changeOf = (data: ShopData, state: RunState, id: string, axis: Axis, file: Knob): readonly Change[] => {
  const station = state.press.stations.find((one) => one.id === id);
  if (station === undefined) return [];
  const was = station.knobs[axis];
  const kept = keptMeasured(data, state, id, axis);
  const wanted = knobOf(state.judged, station, axis);
  if (same(file, wanted) || !(same(file, was) || (kept !== null && same(file, kept)))) return [];
  const turned = file.hand_plus !== null && file.sense !== wanted.sense;
  const hand: Hand = file.hand_plus === 'clockwise' ? 'anticlockwise' : 'clockwise';
  const knob: Written = {
    ...(wanted.division_mm === null ? {} : { division_mm: wanted.division_mm }),
    sense: wanted.sense,
    ...(turned ? { [axis === 'along' ? 'to_advance' : 'to_operator']: hand } : {}),
  };
  return [{ id, axis, knob }];
};

const same = (a: Pick<Knob, 'division_mm' | 'sense'>, b: Pick<Knob, 'division_mm' | 'sense'>): boolean =>
  a.division_mm === b.division_mm && a.sense === b.sense;

const changed = (file: PressFile, changes: readonly Change[]): PressFile => ({
  ...file,
  stations: file.stations.map((station) => {
    let made = station;
    for (const { axis, knob } of changes.filter(({ id }) => id === station.id)) {
      const { division_mm: _was, ...rest } = made[axis] ?? {};
      made = { ...made, [axis]: { ...rest, ...knob } };
    }
    return made;
  }),
});
