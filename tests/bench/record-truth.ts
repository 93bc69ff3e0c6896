import { AXES, type Axis } from '../second-press/crew.js';
import type { Layout, SampleTrace } from '../second-press/press.js';

/** What truly happened on one axis of one run, sample by sample. All mm: + ahead / + operator side; metres of press counter. */
export type AxisTruth = {
  readonly axis: Axis;
  readonly stations: readonly { readonly id: string; readonly path_m: number }[];
  /** Where each sample was pulled. */
  readonly at_m: readonly number[];
  /** By sample, by station: register less every turn keyed that the sample carries. Only what nobody turned is left. */
  readonly alone: readonly (readonly number[])[];
  /** By sample, by station: true register on the label. */
  readonly register: readonly (readonly number[])[];
};

/** Every turn as it was keyed and what it truly did. */
export type TrueTurn = SampleTrace['turns'][number];

export const truthOf = (layout: Layout, trace: readonly SampleTrace[]): Readonly<Record<Axis, AxisTruth>> => {
  const reference = layout.stations.find((s) => s.id === layout.referenceId);
  const others = layout.stations.filter((s) => s.id !== layout.referenceId);
  const turns = trace.flatMap((t) => t.turns);
  // Second labels come off the same sample: one of each is enough.
  const samples = trace.filter((t, i) => t.pulledAtM !== trace[i - 1]?.pulledAtM);
  const of = (axis: Axis): AxisTruth => {
    const keyed = (id: string, printed_m: number): number =>
      turns
        .filter((t) => t.station === id && t.axis === axis && t.atM <= printed_m)
        .reduce((sum, t) => sum + t.asked * (layout.stations.find((s) => s.id === id)?.divisionMm[axis] ?? 0), 0);
    const register = samples.map((s) => others.map((x) => s.truth[`${x.id}/${axis}`] ?? 0));
    return {
      axis,
      stations: others.map((s) => ({ id: s.id, path_m: s.atM - (reference?.atM ?? 0) })),
      at_m: samples.map((s) => s.pulledAtM),
      register,
      alone: samples.map((s, i) =>
        others.map(
          (x, k) =>
            (register[i]?.[k] ?? 0) -
            keyed(x.id, s.pulledAtM - (layout.sampleM - x.atM)) +
            keyed(layout.referenceId, s.pulledAtM - (layout.sampleM - (reference?.atM ?? 0))),
        ),
      ),
    };
  };
  return Object.fromEntries(AXES.map((axis) => [axis, of(axis)])) as Record<Axis, AxisTruth>;
};
