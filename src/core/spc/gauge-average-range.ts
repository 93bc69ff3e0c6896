import { constants } from './constants.js';
import type { GaugeStudy } from './gauge-study.js';

/**
 * The gauge study as it is done with pencil and paper: from ranges, without interaction.
 * How: repeats: mean range of the cells x K1; operators: range of the operators' means x K2, less what repeats put
 * into it; parts: range of the part means x K3. K1 = 1/d2(repeats) as the manual has it for many cells; K2 and K3 are
 * 1/d2* for one range, d2*^2 = d2^2 + d3^2.
 * In: a balanced `GaugeStudy`. Out: standard deviations in the unit of the readings, and percent of the total.
 * Source: AIAG Measurement Systems Analysis, 4th ed. (2010), Figures III-B 15 and 16; d2* after A. J. Duncan, Quality
 * Control and Industrial Statistics, Appendix D3 (K factors agree with the manual's .5908, .5231, .3146).
 * Example: the AIAG data give EV 0.2019, AV 0.2297, GRR 0.3058 (26.68 % of the total), PV 1.1046, 5 categories.
 */
export type GaugeAverageRange = {
  readonly meanRange: number;
  readonly operatorRange: number;
  readonly partRange: number;
  readonly repeatability: number;
  readonly reproducibility: number;
  readonly gauge: number;
  readonly part: number;
  readonly total: number;
  readonly percentOfTotal: {
    readonly repeatability: number;
    readonly reproducibility: number;
    readonly gauge: number;
    readonly part: number;
  };
  /** 1.41 part / gauge, before it is cut to a whole number; null when the gauge shows no scatter. */
  readonly categories: number | null;
};

export type RangeFactors = { readonly k1: number; readonly k2: number; readonly k3: number };

export const gaugeAverageRange = (study: GaugeStudy, factors = rangeFactors(study)): GaugeAverageRange => {
  const { cells, parts, repeats } = study;
  const all = cells.flat();
  const meanRange = all.reduce((sum, cell) => sum + rangeOf(cell), 0) / all.length;
  const operatorRange = rangeOf(cells.map((row) => meanOf(row.flat())));
  const partRange = rangeOf(parts.map((_, at) => meanOf(cells.flatMap((row) => row[at] ?? []))));
  const repeatability = meanRange * factors.k1;
  const between = (operatorRange * factors.k2) ** 2 - repeatability ** 2 / (parts.length * repeats);
  const reproducibility = Math.sqrt(Math.max(0, between));
  const gauge = Math.hypot(repeatability, reproducibility);
  const part = partRange * factors.k3;
  const total = Math.hypot(gauge, part);
  const percent = (sd: number): number => (100 * sd) / total;
  return {
    meanRange,
    operatorRange,
    partRange,
    repeatability,
    reproducibility,
    gauge,
    part,
    total,
    percentOfTotal: {
      repeatability: percent(repeatability),
      reproducibility: percent(reproducibility),
      gauge: percent(gauge),
      part: percent(part),
    },
    categories: gauge > 0 ? (1.41 * part) / gauge : null,
  };
};

/** K1, K2 and K3 for the number of repeats, operators and parts. */
export const rangeFactors = (study: GaugeStudy): RangeFactors => ({
  k1: 1 / constants(study.repeats).d2,
  k2: 1 / oneRange(study.operators.length),
  k3: 1 / oneRange(study.parts.length),
});

/** d2*, for a sigma taken from one range only. */
const oneRange = (size: number): number => Math.hypot(constants(size).d2, constants(size).d3);

const rangeOf = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);

const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
