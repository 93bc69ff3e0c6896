/** Knows where everything truly lies and how fast it goes; centres the coming roll, exactly, with the fewest turns. */
import { AXES, type Axis, type CrewFactory, type Desk, type Hidden, type Layout } from '../crew.js';

/** Not worth a turn below this part of the tolerance. */
const WORTH = 0.2;

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0;

/** Error halfway to the next roll change, mm: what must be taken away to leave the coming roll as good as can be. */
const ahead = (layout: Layout, desk: Desk, hidden: Hidden, id: string, axis: Axis): number => {
  const roll = layout.finishedRollM;
  const left = roll - (desk.counterM() % roll);
  return hidden.error(id, axis) + (hidden.slope(id, axis) * left) / 2;
};

const setAxis = (layout: Layout, desk: Desk, hidden: Hidden, axis: Axis): void => {
  const others = layout.stations.filter((x) => x.id !== layout.referenceId);
  const off = (): { id: string; mm: number; parts: number }[] =>
    others
      .map((x) => {
        const mm = ahead(layout, desk, hidden, x.id, axis);
        return { id: x.id, mm, parts: Math.abs(mm) / x.tolerance[axis] };
      })
      .sort((a, b) => b.parts - a.parts);
  const past = off().filter((x) => x.parts > WORTH);
  if (past.length === 0) return;
  const fixed = past.find((x) => !layout.hasKnob(x.id, axis));
  const common = fixed?.mm ?? median(off().map((x) => x.mm));
  const afterwards = off().filter((x) => {
    const info = layout.stations.find((s) => s.id === x.id);
    return Math.abs(x.mm - common) > WORTH * (info?.tolerance[axis] ?? 0);
  });
  if (fixed !== undefined || afterwards.length + 1 < past.length) hidden.move(layout.referenceId, axis, common);
  for (const x of off()) if (x.parts > WORTH && layout.hasKnob(x.id, axis)) hidden.move(x.id, axis, -x.mm);
};

export const oracle: CrewFactory = (layout, hidden) => ({
  name: 'oracle',
  ok: () => {},
  sample: (desk) => {
    for (const axis of AXES) setAxis(layout, desk, hidden, axis);
  },
});
