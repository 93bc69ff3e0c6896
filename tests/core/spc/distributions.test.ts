import { describe, expect, it } from 'vitest';
import * as distributions from '../../../src/core/spc/distributions.js';

type Name = Exclude<keyof typeof distributions, 'normalQuantile'>;
type Case = readonly [Name, readonly number[], number];

/** By mpmath 1.3.0 with 40 digits: the regularised incomplete beta and gamma functions, by their series. */
const MPMATH: readonly Case[] = [
  ['tCdf', [-1e-6, 4], 0.499999625],
  ['tCdf', [-0.5, 3], 0.3257239824240755],
  ['tCdf', [-2.2281388519649385, 10], 0.025000000000904334],
  ['tCdf', [-12.706204736432095, 1], 0.02499999999949565],
  ['tCdf', [-6, 7.3], 0.0002308722389373932],
  ['tCdf', [-40, 5], 9.205981085886477e-8],
  ['tCdf', [-3, 200.5], 0.0015210820839504445],
  ['tCdf', [-4, 20000], 3.178514275634055e-5],
  ['tCdf', [-0.01, 20000], 0.4960106935553349],
  ['fCdf', [1, 1, 1], 0.5],
  ['fCdf', [3.3258345304130112, 5, 10], 0.95],
  ['fCdf', [0.2, 4, 60], 0.06260548863093068],
  ['fCdf', [0.0001, 6, 3], 1.748819269562373e-11],
  ['fCdf', [9, 2, 500], 0.9998554356700223],
  ['fCdf', [1.02, 1000, 1400], 0.6336588663892551],
  ['chisquareSurvival', [3.841458820694124, 1], 0.05000000000000006],
  ['chisquareCdf', [3.841458820694124, 1], 0.95],
  ['chisquareSurvival', [88, 10], 1.3335382246177511e-14],
  ['chisquareCdf', [88, 10], 0.9999999999999867],
  ['chisquareSurvival', [200, 150], 0.003973185970821611],
  ['chisquareCdf', [200, 150], 0.9960268140291784],
  ['chisquareSurvival', [600, 20], 2.878499265537018e-114],
  ['chisquareCdf', [600, 20], 1.0],
  ['chisquareSurvival', [3000, 20], 0.0],
  ['chisquareCdf', [3000, 20], 1.0],
  ['chisquareSurvival', [0.001, 3], 0.9999915920809419],
  ['chisquareCdf', [0.001, 3], 8.40791905804616e-6],
  ['chisquareSurvival', [1010, 1000], 0.40603315094773595],
  ['chisquareCdf', [1010, 1000], 0.593966849052264],
  ['poissonCdf', [0, 0.5], 0.6065306597126334],
  ['poissonCdf', [4, 0.5], 0.9998278843700441],
  ['poissonCdf', [3, 25], 4.086758947996746e-8],
  ['poissonCdf', [30, 4.2], 1.0],
  ['poissonCdf', [0, 300], 5.148200222412013e-131],
  ['poissonCdf', [990, 1000], 0.38376226662936946],
  ['binomialCdf', [3, 50, 0.2313], 0.0012823098505800189],
  ['binomialCdf', [0, 40, 0.02], 0.44570040395095106],
  ['binomialCdf', [1, 10000, 0.001], 0.000497358991392951],
  ['binomialCdf', [39, 40, 0.5], 0.9999999999990905],
  ['binomialCdf', [10, 2000, 0.004], 0.816284033349996],
  ['normalCdf', [-37], 5.725571222524577e-300],
  ['normalCdf', [-20], 2.7536241186062337e-89],
  ['normalCdf', [-8], 6.220960574271784e-16],
  ['normalCdf', [-3], 0.0013498980316300946],
  ['normalCdf', [-0.1], 0.460172162722971],
  ['normalCdf', [2], 0.9772498680518208],
];

/** By scipy 1.17.1, t.ppf and chi2.ppf. */
const SCIPY: readonly Case[] = [
  ['tQuantile', [0.001, 3], -10.214531852407385],
  ['tQuantile', [0.025, 10], -2.2281388519862753],
  ['tQuantile', [0.3, 4.5], -0.5635058039393779],
  ['tQuantile', [0.4999, 30], -0.0002527600253933647],
  ['tQuantile', [1e-8, 12], -12.98409809086107],
  ['tQuantile', [0.00125, 48], -3.1910652851513843],
  ['tQuantile', [0.025, 100000.0], -1.95998770753461],
  ['chisquareQuantile', [0.025, 9], 2.7003894999803584],
  ['chisquareQuantile', [0.95, 1], 3.841458820694124],
  ['chisquareQuantile', [0.975, 149], 184.68695493443445],
  ['chisquareQuantile', [0.005, 2.5], 0.03211343311105102],
  ['chisquareQuantile', [0.999, 40], 73.40195751899103],
  ['chisquareQuantile', [0.025, 50000], 49382.10144327502],
];

const ask = (name: Name, inputs: readonly number[]): number =>
  (distributions[name] as (...values: readonly number[]) => number)(...inputs);

describe('each distribution, in its small tail too', () => {
  it.each([...MPMATH, ...SCIPY])('%s of %j is %d (mpmath, scipy)', (name, inputs, want) => {
    const many = Math.max(...inputs) >= 1000;
    expect(Math.abs(ask(name, inputs) - want)).toBeLessThanOrEqual((many ? 1e-9 : 1e-12) * Math.abs(want));
  });
  it('has the printed percentage points: E. S. Pearson and H. O. Hartley (1966), Biometrika Tables I, tables 8, 12, 18; from memory', () => {
    expect(distributions.tQuantile(0.975, 10)).toBeCloseTo(2.228, 3);
    expect(distributions.chisquareQuantile(0.95, 10)).toBeCloseTo(18.307, 3);
    expect(distributions.fCdf(3.33, 5, 10)).toBeCloseTo(0.95, 3);
  });
  it('the upper side mirrors the lower', () => {
    expect(distributions.tQuantile(0.975, 7)).toBe(-distributions.tQuantile(0.025, 7));
    expect(distributions.tCdf(2, 7) + distributions.tCdf(-2, 7)).toBe(1);
  });
  it('is whole at its ends, and says nothing of what is not a number or has no degrees of freedom', () => {
    expect([distributions.normalQuantile(0), distributions.normalQuantile(1)]).toEqual([-Infinity, Infinity]);
    expect([distributions.tQuantile(0, 3), distributions.tQuantile(0.5, 3), distributions.tQuantile(1, 3)]).toEqual([
      -Infinity,
      0,
      Infinity,
    ]);
    expect([distributions.chisquareQuantile(0, 3), distributions.chisquareQuantile(1, 3)]).toEqual([0, Infinity]);
    expect([distributions.tCdf(-Infinity, 3), distributions.tCdf(Infinity, 3), distributions.tCdf(-1e200, 3)]).toEqual([
      0, 1, 0,
    ]);
    expect([distributions.fCdf(0, 2, 3), distributions.fCdf(Infinity, 2, 3)]).toEqual([0, 1]);
    expect([distributions.chisquareSurvival(Infinity, 2), distributions.chisquareCdf(Infinity, 2)]).toEqual([0, 1]);
    expect([distributions.poissonCdf(-1, 2), distributions.poissonCdf(3, 0)]).toEqual([0, 1]);
    expect([distributions.binomialCdf(-1, 4, 0.5), distributions.binomialCdf(4, 4, 0.5)]).toEqual([0, 1]);
    expect([distributions.binomialCdf(2, 4, 0), distributions.binomialCdf(2, 4, 1)]).toEqual([1, 0]);
    expect([distributions.normalCdf(1, 1, 0), distributions.normalCdf(0.9, 1, 0)]).toEqual([1, 0]);
    expect([distributions.normalCdf(-1e9), distributions.normalCdf(1e9)]).toEqual([0, 1]);
    for (const name of ['tCdf', 'tQuantile', 'chisquareCdf', 'chisquareSurvival', 'chisquareQuantile'] as const) {
      expect(ask(name, [Number.NaN, 3]), name).toBeNaN();
      expect(ask(name, [0.5, 0]), name).toBeNaN();
    }
    expect([
      distributions.fCdf(Number.NaN, 2, 3),
      distributions.fCdf(1, 0, 3),
      distributions.normalQuantile(2),
    ]).toEqual([Number.NaN, Number.NaN, Number.NaN]);
    expect(distributions.binomialCdf(1, 4, Number.NaN)).toBeNaN();
  });
});
