/** What a loupe shows of one station on one label. All drawn from hashes of the label, so reading it again shows the same place. */
import { between, hashNormal, hashUniform, stream } from './prng.js';
import type { Scenario } from './scenario.js';
import type { AxisNo, Truth } from './truth.js';

/** Reading, mm, of a station on the `nth` label (0 the first) of the sample pulled at a counter. */
export type ReadLabel = (station: number, axis: AxisNo, pulledAtM: number, nth: number) => number;

export const makeReadLabel = (s: Scenario, truth: Truth, seed: number): ReadLabel => {
  const rng = stream(seed, 'scatter');
  const loupeMm = between(rng, s.loupeMm);
  const own = truth.places.map(() =>
    ([0, 1] as const).map(() => ({
      sd: between(rng, s.labelMm),
      sine: between(rng, s.eccentricMm),
      /** Labels from peak to peak: a cylinder of another circumference than the plate's. */
      period: 2.5 + 7 * rng(),
      phase: 2 * Math.PI * rng(),
    })),
  );
  const round = (mm: number): number => Math.round(Math.round(mm / s.graduationMm) * s.graduationMm * 1e6) / 1e6;
  /** Sine of one cylinder and scatter it gives every reading of that label. */
  const ofCylinder = (k: number, a: AxisNo, label: number, pulled: number, part: number): number => {
    const x = own[k]?.[a];
    if (x === undefined) return 0;
    const sine = a === 0 ? x.sine * Math.sin((2 * Math.PI * label) / x.period + x.phase) : 0;
    const label1 = hashNormal(seed, 11, k, a, label);
    const sample1 = s.sampleShare * hashNormal(seed, 12, k, a, pulled);
    return sine + x.sd * Math.sqrt(part) * (label1 + sample1);
  };
  return (k, a, pulledAtM, nth) => {
    const label = Math.floor((pulledAtM * 1000) / s.repeatMm) - nth;
    const pulled = Math.floor(pulledAtM);
    const scatter =
      ofCylinder(k, a, label, pulled, 1 - s.referenceShare) -
      ofCylinder(truth.reference, a, label, pulled, s.referenceShare);
    const seen = truth.onLabel(k, a, pulledAtM - (nth * s.repeatMm) / 1000) + scatter;
    const keyed = round(seen + loupeMm * hashNormal(seed, 13, k, a, label));
    if (hashUniform(seed, 14, k, a, label) >= s.misread) return keyed;
    if (hashUniform(seed, 15, k, a, label) < 0.5) return -keyed || 0;
    const mark = Math.max(0.1, 2 * s.graduationMm);
    return round(keyed + (hashUniform(seed, 16, k, a, label) < 0.5 ? -mark : mark));
  };
};
