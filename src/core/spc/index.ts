/**
 * Statistics for a process that should stay where it was put: the table of contents of `holdregister/stats`.
 * Every streaming method is `{ initial, step }` with plain JSON state; every chart takes a column at once.
 */
export { autocorrelation } from './autocorrelation.js';
export { type Autoregression, fitAutoregression } from './autoregression.js';
export { type BatchMeans, batchMeans } from './batch-means.js';
// Counts, trend, capability, gauge study, adjustment.
export { binomialAtLeast, binomialLimits, type CountLimits } from './binomial-limits.js';
export { type BoundedAdjustment, boundedAdjustment } from './bounded-adjustment.js';
export {
  type Capability,
  capabilityOf,
  checkTolerance,
  type Index,
  type Measured,
  type Tolerance,
} from './capability.js';
export {
  BOTH_SHAPES,
  type ChangepointConfig,
  type ChangepointPoint,
  type ChangepointState,
  changepoint,
  DEFAULT_WINDOW,
} from './changepoint.js';
export { type ChangepointChartConfig, changepointChart } from './changepoint-chart.js';
export type { ChangeShape } from './changepoint-fit.js';
export { changepointRunLength, changepointThreshold } from './changepoint-threshold.js';
export type { Chart, ChartPoint } from './chart.js';
export { type BasisAsked, chartBasis } from './chart-basis.js';
export { type Constants, constants } from './constants.js';
export {
  type CorrelatedEwmaConfig,
  type CorrelatedEwmaPoint,
  type CorrelatedEwmaState,
  correlatedEwma,
} from './correlated-ewma.js';
export { type CountChart, type CountPoint, type CountSettings, countChart } from './count-chart.js';
export type { CountKind } from './count-samples.js';
export { type CusumConfig, type CusumPoint, type CusumState, cusum } from './cusum.js';
export { type CusumChartConfig, type CusumChartPoint, cusumChart } from './cusum-chart.js';
export { type CountMade, type Dispersion, dispersion } from './dispersion.js';
export { chisquareSurvival } from './distributions.js';
export { type EwmaConfig, type EwmaPoint, type EwmaState, ewma, ewmaReach } from './ewma.js';
export { type EwmaChartConfig, ewmaChart } from './ewma-chart.js';
export { type FunnelRule, funnel, funnelVariance } from './funnel.js';
export { type GapPoint, type GapSettings, gChart } from './g-chart.js';
export { type AnovaLine, type GaugeAnova, gaugeAnova, shareOfTolerance } from './gauge-anova.js';
export { type GaugeAverageRange, gaugeAverageRange, type RangeFactors, rangeFactors } from './gauge-average-range.js';
export { type GaugeReading, type GaugeStudy, gaugeStudy } from './gauge-study.js';
export { gaussLegendre } from './gauss-legendre.js';
export { type Grubbs, type GrubbsSettings, grubbs } from './grubbs.js';
export { type IndividualsConfig, type IndividualsPoint, individuals } from './individuals.js';
export { type IndividualsChartConfig, individualsChart } from './individuals-chart.js';
export { integralControlRatio } from './integral-control.js';
export { inversions } from './inversions.js';
export { type LagOneTest, lagOneTest } from './lag-one-test.js';
export { type Laney, type LaneySettings, laney, type Rate } from './laney.js';
export { type Interval, type LeastSquares, leastSquares, predict } from './least-squares.js';
export { limitForRunLength } from './limit-for-run-length.js';
export { type LocalLevel, localLevel, settledWeight } from './local-level.js';
export { type MannKendall, mannKendall } from './mann-kendall.js';
export type { MeanChartConfig, MeanChartPoint, Subgroups } from './mean-chart.js';
export { type Method, runMethod, type Signal, type SignalWord, type Step } from './method.js';
export { addReading, type Moments, type MomentsState, moments, momentsOf } from './moments.js';
export { type MovingRange, movingRange } from './moving-range.js';
export { normalCdf, normalPdf, normalQuantile, normalSurvival } from './normal.js';
export { normalScore } from './normal-score.js';
export { type PageHinkleyConfig, type PageHinkleyPoint, type PageHinkleyState, pageHinkley } from './page-hinkley.js';
export { type PercentileRule, percentile } from './percentile.js';
export {
  type ExposedCount,
  type PoissonCusumConfig,
  type PoissonCusumPoint,
  type PoissonCusumState,
  poissonCusum,
} from './poisson-cusum.js';
export { poissonCusumDecision, poissonCusumRunLength } from './poisson-cusum-run-length.js';
export { poissonAtLeast, poissonLowerLimit, poissonUpperLimit } from './poisson-limits.js';
export { type Portmanteau, portmanteau } from './portmanteau.js';
export { rangeCdf, rangeMoments } from './range-distribution.js';
export { PROBABLE_ERROR, type ReadingStep, readingStep, worthwhileStep } from './reading-step.js';
export { repeatedStep } from './repeated-step.js';
export { roundedNormal } from './rounded-normal.js';
export {
  type RoundedScatter,
  roundedReadingsSd,
  roundedScatter,
  roundingVariance,
  withRounding,
} from './rounded-scatter.js';
export { type RunLengthOptions, type RunLengths, runLength } from './run-length.js';
export { changepointRunLengthFormula } from './run-length-changepoint.js';
export { cusumRunLength } from './run-length-cusum.js';
export { ewmaRunLength } from './run-length-ewma.js';
export { zoneRunLength } from './run-length-zone.js';
export { METHODS, type MethodWord, methodWord, runStatsMethod } from './run-method.js';
export { seededNumbers } from './seeded-numbers.js';
export {
  type SelfStartingConfig,
  type SelfStartingPoint,
  type SelfStartingState,
  selfStarting,
} from './self-starting.js';
export {
  type SelfStartingCusumConfig,
  type SelfStartingCusumPoint,
  type SelfStartingCusumState,
  selfStartingCusum,
} from './self-starting-cusum.js';
export { simulatedRunLength } from './simulated-run-length.js';
export type { StatsAnswer, StatsDocument } from './stats/document.js';
export { readOptions, type StatsOptions } from './stats/options.js';
export type { Table, TableRow } from './stats/table.js';
export { type Steadiness, steadiness, steadinessOfGroups } from './steadiness.js';
export { type Summary, summary } from './summary.js';
export { type TimePoint, type TimeSettings, tChart } from './t-chart.js';
export { type TheilSen, type TheilSenSettings, theilSen } from './theil-sen.js';
export { type StepTest, type Stretch, welch, welchOf } from './welch.js';
export { xbarRChart } from './xbar-r-chart.js';
export { xbarSChart } from './xbar-s-chart.js';
export { type Zone, zoneOf } from './zone.js';
export { RULE_WORDS, type RuleMemory, type RuleWord } from './zone-rules.js';
