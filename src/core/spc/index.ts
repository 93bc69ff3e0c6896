/**
 * Statistics for a process that should stay where it was put: the table of contents of `holdregister/stats`.
 * Every streaming method is `{ initial, step }` with plain JSON state; every chart takes a column at once.
 */
export { autocorrelation } from './autocorrelation.js';
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
export { type CusumConfig, type CusumPoint, type CusumState, cusum } from './cusum.js';
export { type CusumChartConfig, type CusumChartPoint, cusumChart } from './cusum-chart.js';
export { type EwmaConfig, type EwmaPoint, type EwmaState, ewma, ewmaReach } from './ewma.js';
export { type EwmaChartConfig, ewmaChart } from './ewma-chart.js';
export { gaussLegendre } from './gauss-legendre.js';
export { type IndividualsConfig, type IndividualsPoint, individuals } from './individuals.js';
export { type IndividualsChartConfig, individualsChart } from './individuals-chart.js';
export { limitForRunLength } from './limit-for-run-length.js';
export type { MeanChartConfig, MeanChartPoint, Subgroups } from './mean-chart.js';
export { type Method, runMethod, type Signal, type SignalWord, type Step } from './method.js';
export { addReading, type Moments, type MomentsState, moments, momentsOf } from './moments.js';
export { type MovingRange, movingRange } from './moving-range.js';
export { normalCdf, normalPdf, normalQuantile, normalSurvival } from './normal.js';
export { normalScore } from './normal-score.js';
export { rangeCdf, rangeMoments } from './range-distribution.js';
export { type RunLengthOptions, type RunLengths, runLength } from './run-length.js';
export { changepointRunLengthFormula } from './run-length-changepoint.js';
export { cusumRunLength } from './run-length-cusum.js';
export { ewmaRunLength } from './run-length-ewma.js';
export { zoneRunLength } from './run-length-zone.js';
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
export { type Summary, summary } from './summary.js';
export { xbarRChart } from './xbar-r-chart.js';
export { xbarSChart } from './xbar-s-chart.js';
export { type Zone, zoneOf } from './zone.js';
export { RULE_WORDS, type RuleMemory, type RuleWord } from './zone-rules.js';
