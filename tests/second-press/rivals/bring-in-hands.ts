/** Hands that bring a press in: everything at one stop, one station after another, or the worst first. */
import type { BringInDesk, BringInFactory, BringInLayout } from '../bring-in.js';
import { AXES, type Axis } from '../crew.js';

type Errors = Record<Axis, number>;
type Needed = { readonly id: string; readonly along: number; readonly across: number; readonly parts: number };

/** Past this part of the tolerance a knob is turned; in to `GOOD` it is left and the job is done. */
const TURN_PAST = 1 / 3;
const GOOD = 1 / 2;

const readOne = (layout: BringInLayout, desk: BringInDesk, id: string): Errors => {
  const tolerance = layout.stations.find((x) => x.id === id)?.tolerance ?? { along: 1, across: 1 };
  const mean = { along: 0, across: 0 };
  const first = desk.read(id);
  const near = AXES.some((axis) => Math.abs(first[axis] ?? 0) > tolerance[axis] * TURN_PAST);
  const second = near ? desk.read(id) : first;
  for (const axis of AXES) mean[axis] = ((first[axis] ?? 0) + (second[axis] ?? 0)) / 2;
  return mean;
};

/** The move of every station that would bring all in, mm; a fixed station stays and the others come to it. */
const needed = (layout: BringInLayout, desk: BringInDesk): Needed[] => {
  const errors = new Map(layout.stations.map((x) => [x.id, readOne(layout, desk, x.id)]));
  const target = (axis: Axis): number => {
    const fixed = layout.stations.find((x) => !layout.hasKnob(x.id, axis));
    return fixed === undefined ? 0 : (errors.get(fixed.id)?.[axis] ?? 0);
  };
  const to = { along: target('along'), across: target('across') };
  // A fixed station that is near enough is no reason to move all the others.
  for (const axis of AXES) {
    const fixed = layout.stations.find((x) => !layout.hasKnob(x.id, axis));
    if (fixed && Math.abs(to[axis]) <= fixed.tolerance[axis] * TURN_PAST) to[axis] = 0;
  }
  return layout.stations.map((x) => {
    const move = (axis: Axis): number => (layout.hasKnob(x.id, axis) ? to[axis] - (errors.get(x.id)?.[axis] ?? 0) : 0);
    const along = move('along');
    const across = move('across');
    return {
      id: x.id,
      along,
      across,
      parts: Math.max(Math.abs(along) / x.tolerance.along, Math.abs(across) / x.tolerance.across),
    };
  });
};

const teethFor = (layout: BringInLayout, x: Needed): number =>
  layout.canMesh(x.id) ? Math.round(x.along / layout.toothMm) || 0 : 0;

/** Across first: on helical gears it moves the print along as well. */
const turnKnobs = (layout: BringInLayout, desk: BringInDesk, x: Needed): void => {
  const tolerance = layout.stations.find((s) => s.id === x.id)?.tolerance ?? { along: 1, across: 1 };
  let along = x.along - teethFor(layout, x) * layout.toothMm;
  if (Math.abs(x.across) > tolerance.across * TURN_PAST)
    along -= layout.helical * desk.turnMm(x.id, 'across', x.across);
  if (Math.abs(along) > tolerance.along * TURN_PAST) desk.turnMm(x.id, 'along', along);
};

const bringBy =
  (name: string, choose: (needs: readonly Needed[]) => readonly Needed[]): BringInFactory =>
  (layout) => ({
    name,
    bring: (desk) => {
      while (desk.pull()) {
        const needs = needed(layout, desk);
        const off = needs.filter((x) => x.parts > GOOD);
        if (off.length === 0) return desk.done();
        const now = choose(off);
        const teeth = now.flatMap((x) => {
          const n = teethFor(layout, x);
          return n === 0 ? [] : [{ station: x.id, teeth: n }];
        });
        if (teeth.length > 0) desk.stopAndTeeth(teeth);
        for (const x of now) turnKnobs(layout, desk, x);
      }
    },
  });

export const allAtOnce = bringBy('all-at-once', (off) => off);
export const webOrder = bringBy('web-order', (off) => off.slice(0, 1));
export const worstFirst = bringBy('worst-first', (off) => [...off].sort((a, b) => b.parts - a.parts).slice(0, 1));

export const BRING_IN_RIVALS = [
  { name: 'all-at-once', crew: allAtOnce },
  { name: 'web-order', crew: webOrder },
  { name: 'worst-first', crew: worstFirst },
] as const;
