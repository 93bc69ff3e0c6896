/** The one door: layouts, scenarios by name, and a run played by a crew. */
import type { Axis, Span } from './crew.js';

export type { Axis, Crew, CrewFactory, Desk, Hidden, Layout, Reading, Span, StationInfo } from './crew.js';
export { makeLayout } from './layout.js';
export { playRun } from './play-run.js';
export { SCENARIO_NAMES, type Scenario, type ScenarioName, scenario } from './scenario.js';

/** What the truth was and what was read at one sample, for looking into a run. */
export type SampleTrace = {
  readonly pulledAtM: number;
  readonly extra: boolean;
  readonly spliced: boolean;
  /** `station/axis` to true systematic error of the label pulled, mm. */
  readonly truth: Readonly<Record<string, number>>;
  readonly readings: readonly { station: string; along: number; across: number }[];
  readonly turns: readonly {
    station: string;
    axis: Axis;
    asked: number;
    turned: number;
    atM: number;
    movedMm: number;
  }[];
};

export type OutSpan = Span & { readonly station: string; readonly axis: Axis; readonly cause: string };

export type Score = {
  readonly metres: number;
  /** Metres with any station truly out on either axis (systematic position at the label; scatter not counted). */
  readonly metresOut: number;
  /** `station/axis` to metres out; one metre may count for several. */
  readonly metresOutBy: Readonly<Record<string, number>>;
  /** Cause that opened the worst station's out span to metres out; adds up to `metresOut`. */
  readonly metresOutByCause: Readonly<Record<string, number>>;
  readonly touches: number;
  /** Turns that left the true error of the station (for the reference: the median of all) over 0.01 mm larger. */
  readonly worseTurns: number;
  readonly readings: number;
  readonly samples: number;
  readonly secondLabels: number;
  readonly tensionLooks: number;
  /** Running time, min. */
  readonly minutes: number;
  /** Minutes the crew was busy reading, turning and looking. */
  readonly busyMinutes: number;
  /** Metres truly out and in no held span. */
  readonly releasedOut: number;
  /** Metres held though nothing was truly out. */
  readonly heldGood: number;
  readonly trace: readonly SampleTrace[];
  readonly outSpans: readonly OutSpan[];
};
