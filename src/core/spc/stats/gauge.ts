import { fail, ok, type Result } from '../../result.js';
import { gaugeAnova, shareOfTolerance } from '../gauge-anova.js';
import { gaugeAverageRange } from '../gauge-average-range.js';
import { gaugeStudy } from '../gauge-study.js';
import type { StatsAnswer } from './document.js';
import type { StatsOptions } from './options.js';
import { type Table, valueColumn, wordsOf } from './table.js';

/** `gauge`: every operator read every part equally often; columns `part` and `operator` unless named. */
export const gaugeOf = (options: StatsOptions, table: Table): Result<StatsAnswer> => {
  const partName = options.part ?? 'part';
  const operatorName = options.operator ?? 'operator';
  const parts = wordsOf(table, partName);
  if (!parts.ok) return parts;
  const operators = wordsOf(table, operatorName);
  if (!operators.ok) return operators;
  const column = valueColumn(table, options.column, [partName, operatorName]);
  if (!column.ok) return column;
  const readings = column.value.values.flatMap((value, at) =>
    value === null ? [] : [{ part: parts.value[at] ?? '', operator: operators.value[at] ?? '', value }],
  );
  const study = gaugeStudy(readings);
  if (!study.ok) return fail(study.problem.message, table.file);
  const found = gaugeAnova(study.value);
  const byRange = gaugeAverageRange(study.value);
  const { lower, upper } = options;
  const both = lower !== undefined && upper !== undefined;
  const { table: anova } = found;
  return ok({
    document: {
      method: 'gauge',
      n: readings.length,
      centre: readings.reduce((sum, { value }) => sum + value, 0) / readings.length,
      sigma: Math.sqrt(found.gauge),
      points: [],
      parameters: {
        parts: study.value.parts.length,
        operators: study.value.operators.length,
        repeats: study.value.repeats,
        pool_above: 0.05,
        lower: lower ?? null,
        upper: upper ?? null,
      },
      result: {
        repeatability: found.repeatability,
        reproducibility: found.reproducibility,
        operator: found.operator,
        interaction: found.interaction,
        part: found.part,
        gauge: found.gauge,
        total: found.total,
        share_of_tolerance: both ? shareOfTolerance(found.gauge, lower, upper) : null,
        share_of_total: found.total > 0 ? Math.sqrt(found.gauge / found.total) : null,
        categories: found.categories,
        interaction_p: anova.interaction.p,
        interaction_pooled: found.pooled,
        mean_squares: {
          part: anova.part.meanSquare,
          operator: anova.operator.meanSquare,
          interaction: anova.interaction.meanSquare,
          repeatability: anova.repeatability.meanSquare,
          pooled: anova.pooled.meanSquare,
        },
        average_and_range: {
          repeatability_sd: byRange.repeatability,
          reproducibility_sd: byRange.reproducibility,
          gauge_sd: byRange.gauge,
          part_sd: byRange.part,
          total_sd: byRange.total,
          share_of_tolerance: both ? shareOfTolerance(byRange.gauge ** 2, lower, upper) : null,
        },
      },
    },
  });
};
