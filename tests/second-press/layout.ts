import type { Axis, Layout, StationInfo } from './crew.js';
import type { Scenario } from './scenario.js';

/** Metres of web after the die to where the sample is torn off at the rewind. */
const AFTER_DIE_M = 3;

/** Standard deviation of a reading a well-told job would give, mm. */
const trueScatter = (s: Scenario): number => {
  const mean = (r: readonly [number, number]): number => (r[0] + r[1]) / 2;
  return Math.hypot(mean(s.labelMm), mean(s.labelMm) * s.sampleShare, mean(s.loupeMm), s.graduationMm / Math.sqrt(12));
};

/** The press as its crew knows it: print stations 1..n-1, the die D last, pitch `pitchM` apart. */
export const makeLayout = (s: Scenario, stationsN: number): Layout => {
  const stations: StationInfo[] = [];
  for (let k = 0; k < stationsN; k++) {
    const die = k === stationsN - 1;
    const tolerance = die ? s.dieToleranceMm : s.printToleranceMm;
    stations.push({
      id: die ? 'D' : String(k + 1),
      kind: die ? 'die' : 'print',
      atM: k * s.pitchM,
      tolerance: { along: tolerance, across: tolerance },
      divisionMm: { along: s.divisionMm, across: s.divisionMm },
    });
  }
  const fixed = (id: string, axis: Axis): boolean =>
    id === 'D' && (axis === 'across' ? s.dieFixedAcross : s.dieFixedAlong);
  return {
    stations,
    referenceId: s.referenceAt === 'first' ? '1' : String(Math.ceil((stationsN - 1) / 2)),
    dieId: 'D',
    sampleM: (stationsN - 1) * s.pitchM + AFTER_DIE_M,
    hasKnob: (id, axis) => stations.some((x) => x.id === id) && !fixed(id, axis),
    believedScatterMm: trueScatter(s) * s.believedFactor,
    graduationMm: s.graduationMm,
    speedMPerMin: s.speedMPerMin,
    finishedRollM: s.finishedRollM,
    repeatMm: s.repeatMm,
    followUp: s.followUp,
  };
};
