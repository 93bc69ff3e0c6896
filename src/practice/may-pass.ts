import { AXES } from '../core/axis.js';
import { labelOf, type Station } from '../core/run/stations.js';
import { formatRegister } from '../core/units.js';
import { okToRun } from '../core/views/ok-to-run.js';
import type { Game } from './game.js';

/** Why OK to run may not be given yet; null = it may. */
export const mayPass = (game: Game): string | null => {
  const { state, world } = game;
  if (world.ok_m !== null) return null;
  const full = okToRun(state);
  if (!full.possible) return full.why;
  const out = measured(game).flatMap((s) =>
    AXES.flatMap((axis) => {
      const mm = state.judged.read[s.id]?.[axis].mm ?? 0;
      return Math.abs(mm) > (world.job.tolerance_mm[s.id]?.[axis] ?? Infinity) + 1e-9
        ? [`${labelOf(s)} ${axis} ${told(mm, axis)}`]
        : [];
    }),
  );
  return out.length === 0
    ? null
    : `OK to run is for a sample that is in tolerance; by your check these are out: ${out.join(', ')}.`;
};

export const measured = (game: Game): readonly Station[] =>
  game.world.stations.filter((s) => s.id !== game.world.job.reference && s.read === 'measure');

export const firstMeasured = (game: Game): Station | undefined => measured(game)[0];

export const told = (mm: number | null, axis: 'along' | 'across'): string =>
  mm === null ? 'not read' : formatRegister(mm, 'mm', { sign: 'word', axis });
