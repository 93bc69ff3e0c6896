import { fCdf } from './distributions.js';
import type { GaugeStudy } from './gauge-study.js';

/**
 * How much of what the gauge shows is the gauge: repeats by one hand, differences between hands, and real differences
 * between parts, as variances.
 * How: crossed two-way analysis of variance with random parts and operators. When the interaction's p is above
 * `poolAbove` (0.05) it is pooled into the repeats and is then 0; a variance that comes out negative is 0.
 * In: a balanced `GaugeStudy`. Out: variances in the unit of the readings squared; `reproducibility` is operator plus
 * interaction, `gauge` repeatability plus reproducibility, `total` gauge plus part. `categories` is how many groups of
 * parts the gauge can tell apart (1.41 part sd / gauge sd, whole part); null when the gauge shows no scatter.
 * Source: AIAG Measurement Systems Analysis, 4th ed. (2010), ANOVA method; D. C. Montgomery, Design and Analysis of
 * Experiments, two-factor random model. Example: the AIAG data (10 parts, 3 operators, 3 repeats) have an interaction
 * p of 0.974, repeatability 0.03997, reproducibility 0.05146, part 1.08645.
 */
export type GaugeAnova = {
  readonly repeatability: number;
  readonly reproducibility: number;
  readonly operator: number;
  readonly interaction: number;
  readonly part: number;
  readonly gauge: number;
  readonly total: number;
  readonly pooled: boolean;
  readonly categories: number | null;
  readonly table: {
    readonly part: AnovaLine;
    readonly operator: AnovaLine;
    readonly interaction: AnovaLine & { readonly f: number | null; readonly p: number };
    readonly repeatability: AnovaLine;
    /** Interaction and repeats together. */
    readonly pooled: AnovaLine;
    readonly totalSquares: number;
  };
};

export type AnovaLine = { readonly df: number; readonly squares: number; readonly meanSquare: number };

export const gaugeAnova = (study: GaugeStudy, poolAbove = 0.05): GaugeAnova => {
  const { cells, repeats: r } = study;
  const o = study.operators.length;
  const p = study.parts.length;
  const all = cells.flat(2);
  const grand = meanOf(all);
  const operatorMeans = cells.map((row) => meanOf(row.flat()));
  const partMeans = study.parts.map((_, at) => meanOf(cells.flatMap((row) => row[at] ?? [])));
  const part = line(p - 1, o * r * squares(partMeans, grand));
  const operator = line(o - 1, p * r * squares(operatorMeans, grand));
  const repeats = line(
    o * p * (r - 1),
    cells.flat().reduce((sum, cell) => sum + squares(cell, meanOf(cell)), 0),
  );
  let crossed = 0;
  for (const [i, row] of cells.entries()) {
    for (const [j, cell] of row.entries()) {
      crossed += r * (meanOf(cell) - (operatorMeans[i] ?? 0) - (partMeans[j] ?? 0) + grand) ** 2;
    }
  }
  const interaction = line((o - 1) * (p - 1), crossed);
  const f = repeats.meanSquare > 0 ? interaction.meanSquare / repeats.meanSquare : null;
  const chance = f === null ? (crossed > 0 ? 0 : 1) : f === 0 ? 1 : fCdf(1 / f, repeats.df, interaction.df);
  const together = line(repeats.df + interaction.df, repeats.squares + interaction.squares);
  const pooled = chance > poolAbove;
  const error = pooled ? together : interaction;
  const repeatability = pooled ? together.meanSquare : repeats.meanSquare;
  const ofInteraction = pooled ? 0 : Math.max(0, (interaction.meanSquare - repeats.meanSquare) / r);
  const ofOperator = Math.max(0, (operator.meanSquare - error.meanSquare) / (p * r));
  const ofPart = Math.max(0, (part.meanSquare - error.meanSquare) / (o * r));
  const gauge = repeatability + ofOperator + ofInteraction;
  return {
    repeatability,
    reproducibility: ofOperator + ofInteraction,
    operator: ofOperator,
    interaction: ofInteraction,
    part: ofPart,
    gauge,
    total: gauge + ofPart,
    pooled,
    categories: gauge > 0 ? Math.floor(1.41 * Math.sqrt(ofPart / gauge)) : null,
    table: {
      part,
      operator,
      interaction: { ...interaction, f, p: chance },
      repeatability: repeats,
      pooled: together,
      totalSquares: squares(all, grand),
    },
  };
};

/** The part of a tolerance that 6 standard deviations of the reading itself take up. */
export const shareOfTolerance = (gaugeVariance: number, lower: number, upper: number): number =>
  (6 * Math.sqrt(gaugeVariance)) / (upper - lower);

const line = (df: number, sum: number): AnovaLine => ({ df, squares: sum, meanSquare: sum / df });

const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

const squares = (values: readonly number[], centre: number): number =>
  values.reduce((sum, value) => sum + (value - centre) ** 2, 0);
