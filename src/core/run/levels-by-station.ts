import type { Axis } from '../axis.js';
import { forecast } from '../drift/forecast.js';
import { levels } from '../drift/levels.js';
import type { WatchConfig } from '../drift/seen.js';
import type { WatchState } from '../drift/watch.js';
import type { Levels, PerAxisLevels } from './levels.js';

/** True register now by station id. */
export const levelsByStation = (config: WatchConfig, state: WatchState): PerAxisLevels => {
  const by = (axis: Axis): Levels => {
    const all = levels(config, state, axis);
    return Object.fromEntries(config.stations.map((s, k) => [s.id, all[k] ?? null]));
  };
  return { along: by('along'), across: by('across') };
};

/** What each station would truly be at a web position, had nothing been turned since the last check: a drift goes on meanwhile. */
export const levelsExpected = (config: WatchConfig, state: WatchState, web_m: number): PerAxisLevels => {
  const now = levelsByStation(config, state);
  const by = (axis: Axis): Levels =>
    Object.fromEntries(
      config.stations.map(({ id }) => {
        const level = now[axis][id] ?? null;
        const ahead = level === null ? null : forecast(config, state, axis, id, web_m, Number.POSITIVE_INFINITY);
        return [id, level === null || ahead === null ? level : { mean_mm: ahead.mean_mm, sd_mm: level.sd_mm }];
      }),
    );
  return { along: by('along'), across: by('across') };
};
