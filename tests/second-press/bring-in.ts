/** Make-ready: a press hung anew, far out of register, brought in sample by sample. No drift; slow running; scatter as in a run. */
import type { Axis, Layout, Reading } from './crew.js';

export type BringInScenario = {
  readonly toothMm: number;
  /** Sd of the start along, teeth; a fraction of a tooth comes on top. */
  readonly startTeeth: number;
  /** Part of the stations that start within their tolerance. */
  readonly fineShare: number;
  /** Start across, even within this each way, mm. */
  readonly startAcrossMm: number;
  readonly dieFixedAlong: boolean;
  readonly dieFixedAcross: boolean;
  /** Along move of a print by 1 mm across on helical gears, mm; 0 for spur gears. */
  readonly helical: number;
  /** given: divisions good to some 5 %. unmeasured: each off by an even ±50 %. play: given, but 0.05..0.12 mm lost on reversal. */
  readonly knobs: 'given' | 'unmeasured' | 'play';
  /** Chance that a knob works the other way round than it says. */
  readonly reversedShare: number;
  readonly travelMm: number;
  readonly labelMm: readonly [number, number];
  readonly loupeMm: number;
  readonly graduationMm: number;
  readonly misread: number;
  readonly divisionMm: number;
  readonly speedMPerMin: number;
  readonly sampleLimit: number;
  /** Where the reference stands; not given: first. */
  readonly referenceAt?: 'first' | 'middle';
};

export type BringInLayout = Layout & {
  readonly toothMm: number;
  /** Way of a print by its knob each way from the middle, where all start, true mm. */
  readonly travelMm: number;
  readonly knobs: 'given' | 'unmeasured';
  /** Along move by 1 mm across, as the press's maker says, mm. */
  readonly helical: number;
  /** Whether the station's gear can be re-meshed. */
  canMesh(stationId: string): boolean;
};

export type BringInDesk = {
  /** Run off a sample printed wholly as the press now stands; false once the limit of samples is reached. */
  pull(): boolean;
  /** First label of the sample, then another at each call; 0.15 min. Nulls before the first pull. */
  read(stationId: string): Reading;
  /** Stop, re-mesh by whole teeth (+ advances), start again: 8 min and 10 m, however many stations. */
  stopAndTeeth(moves: readonly { readonly station: string; readonly teeth: number }[]): void;
  /** By divisions; gives back what was turned, less where the knob came to its end. 0.4 min. */
  turn(stationId: string, axis: Axis, divisions: number): number;
  /** By about so many mm, to the nearest division by the plate; gives back the mm by the plate. 0.4 min. */
  turnMm(stationId: string, axis: Axis, mm: number): number;
  /** In register: OK to run. Ends the make-ready. */
  done(): void;
  samples(): number;
  metres(): number;
  minutes(): number;
};

export type BringInCrew = { readonly name: string; bring(desk: BringInDesk): void };
export type BringInFactory = (layout: BringInLayout) => BringInCrew;

export type BringInScore = {
  readonly samples: number;
  readonly stops: number;
  readonly metres: number;
  readonly minutes: number;
  readonly turns: number;
  readonly readings: number;
  /** Part of the stations, reference left out, truly within tolerance on both axes at the end. */
  readonly inShare: number;
  readonly done: boolean;
  /** `station/axis` to true error at the end, mm. */
  readonly errors: Readonly<Record<string, number>>;
};

export const bringIn = (over: Partial<BringInScenario> = {}): BringInScenario => ({
  toothMm: 3.175,
  startTeeth: 1.5,
  fineShare: 0.2,
  startAcrossMm: 1.2,
  dieFixedAlong: false,
  dieFixedAcross: true,
  helical: 0,
  knobs: 'given',
  reversedShare: 0,
  travelMm: 3,
  labelMm: [0.01, 0.04],
  loupeMm: 0.01,
  graduationMm: 0.01,
  misread: 0.01,
  divisionMm: 0.02,
  speedMPerMin: 20,
  sampleLimit: 80,
  ...over,
});

export { playBringIn } from './play-bring-in.js';
