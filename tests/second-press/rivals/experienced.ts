/**
 * An experienced hand: reads a second label before believing a reading past half the tolerance, turns the reference when
 * three quarters of the stations are off alike, and holds from the last good check to the next good one.
 */
import { AXES, type Axis, type Crew, type CrewFactory, type Desk, type Layout, type Span } from '../crew.js';

const ALIKE_MM = 0.05;
const SHARE = 0.75;

type Mean = { readonly id: string; readonly mm: number };

const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length / 2;
  return ((sorted[Math.ceil(half) - 1] ?? 0) + (sorted[Math.floor(half)] ?? 0)) / 2;
};

/** First label, and the mean of two where the first is past half the tolerance on either axis. */
const readAll = (layout: Layout, desk: Desk): Record<Axis, Mean[]> => {
  const all: Record<Axis, Mean[]> = { along: [], across: [] };
  for (const station of layout.stations) {
    if (station.id === layout.referenceId) continue;
    const first = desk.read(station.id);
    const past = AXES.some((axis) => Math.abs(first[axis] ?? 0) > station.tolerance[axis] / 2);
    const second = past ? desk.read(station.id) : first;
    for (const axis of AXES) {
      const a = first[axis];
      const b = second[axis];
      if (a !== null && b !== null) all[axis].push({ id: station.id, mm: (a + b) / 2 });
    }
  }
  return all;
};

const setRight = (layout: Layout, desk: Desk, axis: Axis, means: readonly Mean[]): boolean => {
  const infoOf = (id: string) => layout.stations.find((x) => x.id === id);
  const turn = (id: string, mm: number): boolean => {
    const divisions = Math.round(mm / (infoOf(id)?.divisionMm[axis] ?? 1));
    return divisions !== 0 && desk.turn(id, axis, divisions) !== 0;
  };
  const past = (x: Mean): boolean => Math.abs(x.mm) > (infoOf(x.id)?.tolerance[axis] ?? 0) / 2;
  const common = median(means.map((x) => x.mm));
  const alike = means.filter((x) => Math.abs(x.mm - common) <= ALIKE_MM && x.mm * common > 0).length;
  const printTolerance = infoOf(layout.referenceId)?.tolerance[axis] ?? 0;
  if (means.length >= 3 && Math.abs(common) > printTolerance / 2 && alike >= SHARE * means.length)
    return turn(layout.referenceId, common);
  let turned = false;
  for (const x of means.filter(past)) {
    if (layout.hasKnob(x.id, axis)) turned = turn(x.id, -x.mm) || turned;
    // A fixed station stays: every print is brought to it.
    else for (const s of layout.stations) if (layout.hasKnob(s.id, axis)) turned = turn(s.id, x.mm) || turned;
  }
  return turned;
};

export const experienced: CrewFactory = (layout): Crew => {
  const spans: Span[] = [];
  let lastGoodM = 0;
  let holding = false;
  return {
    name: 'experienced',
    ok: () => {},
    sample: (desk) => {
      const means = readAll(layout, desk);
      const inside = AXES.every((axis) =>
        means[axis].every((x) => Math.abs(x.mm) <= (layout.stations.find((s) => s.id === x.id)?.tolerance[axis] ?? 0)),
      );
      if (inside) {
        if (holding) spans.push({ fromM: lastGoodM, toM: desk.pulledAtM });
        holding = false;
        lastGoodM = desk.pulledAtM;
      } else holding = true;
      const turned = AXES.map((axis) => setRight(layout, desk, axis, means[axis]));
      if (turned.includes(true) && layout.followUp) desk.sampleAfter(layout.sampleM + 30);
    },
    held: () => (holding ? [...spans, { fromM: lastGoodM, toM: Number.POSITIVE_INFINITY }] : spans),
  };
};
