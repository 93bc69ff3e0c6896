import type { Axis } from '../axis.js';
import type { AdviceFinding } from '../finding.js';
import { adviceFor, type PerAxisLevels } from './advise.js';
import { hushFor } from './hush.js';
import type { SeenCheck } from './seen-check.js';
import type { Judged, Movement } from './state.js';

const RANK = { out: 0, act: 1, note: 2 } as const;

/**
 * What to turn for every open movement that is to be acted on. One thing at a time on an axis where the reference or more than one
 * station is to be moved, for that shifts what the others read; movements of single stations are each their own.
 */
export const adviseOpen = (seen: SeenCheck, judged: Judged, levels: PerAxisLevels): Judged => {
  const { press, job, stations } = seen;
  const order = judged.movements
    .filter((m) => m.closed === null && m.severity !== 'note')
    .sort(
      (a, b) =>
        breadth(b) - breadth(a) || RANK[a.severity] - RANK[b.severity] || b.confidence - a.confidence || a.key - b.key,
    );
  const given = new Map<number, AdviceFinding>();
  const closedAxes = new Set<Axis>();
  const spoken = new Set<string>();
  for (const m of order) {
    const advice = adviceFor(press, job, judged, stations, m, levels, hushFor(seen, judged, m, levels));
    const shifts = advice.moves.length > 1 || advice.moves.some((move) => move.station === judged.reference);
    const clashes =
      advice.moves.length > 0 &&
      (closedAxes.has(m.axis) || advice.moves.some((move) => spoken.has(`${move.station} ${move.axis}`)));
    given.set(m.key, clashes ? adviceFor(press, job, judged, stations, m, levels, FIRST_THE_OTHER) : advice);
    if (clashes || advice.moves.length === 0) continue;
    for (const move of advice.moves) spoken.add(`${move.station} ${move.axis}`);
    if (shifts) closedAxes.add(m.axis);
  }
  return {
    ...judged,
    movements: judged.movements.map((m): Movement => ({ ...m, advice: given.get(m.key) ?? m.advice })),
  };
};

/** What reaches more than one station speaks first. */
const breadth = (m: Movement): number => (m.cause.kind === 'station' ? 0 : 1);

const FIRST_THE_OTHER = {
  why: 'Another movement on this axis is dealt with first; what is left shows on the sample after it.',
};
