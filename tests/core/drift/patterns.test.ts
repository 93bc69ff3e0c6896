import { describe, expect, it } from 'vitest';
import type { Seen } from '../../../src/core/drift/seen.js';
import { initial, step } from '../../../src/core/drift/watch.js';
import { configOf, readPress, SEVEN } from '../../support/press-sim.js';
import { seeded } from '../../support/seeded.js';
import { config, SIGMA, scene } from './watch-run.js';

const patternsOf = (checks: readonly Seen[]): ReadonlySet<string> => {
  let state = initial(config);
  const found = new Set<string>();
  for (const seen of checks) {
    const r = step(config, state, seen);
    state = r.state;
    for (const m of r.found.flatMap((f) => f.movements)) if (m.pattern !== undefined) found.add(m.pattern);
  }
  return found;
};

describe('patterns with a name', () => {
  const path = (k: number): number => ((SEVEN.at_m[k] ?? 0) - 1.5) / 8;
  const inRoll = (t: number): number => t % 12;

  it('the web going the same way within every roll and springing back at its change', () => {
    const found = patternsOf(
      scene({
        checks: 60,
        moves: (k, t) => 0.5 * (inRoll(t) - 5) * path(k),
        marks: (t) => ({ roll_change: inRoll(t) === 0 }),
      }),
    );
    expect(found).toContain('within each roll');
  });

  it('a ramp that goes on through the changes is not that, nor is a quiet run', () => {
    const marks = (t: number): Partial<Seen> => ({ roll_change: inRoll(t) === 0 });
    expect(patternsOf(scene({ checks: 60, moves: (k, t) => 0.15 * t * path(k), marks }))).not.toContain(
      'within each roll',
    );
    expect(patternsOf(scene({ checks: 60, marks }))).not.toContain('within each roll');
  });

  it('correcting one and a half times every reading is over-adjusting; correcting a step once is not', () => {
    const overAdjusted = (gain: number, once: boolean): ReadonlySet<string> => {
      const random = seeded(12);
      const c = configOf(SEVEN);
      let state = initial(c);
      let turned = 0;
      const found = new Set<string>();
      for (let t = 1; t <= 40; t++) {
        const all = SEVEN.at_m.map((_, k) => (k === 3 ? turned : 0));
        const seen = readPress(
          SEVEN,
          random,
          t,
          { along: (k) => (k === 3 && t > 12 ? 4 * SIGMA : 0), across: () => 0 },
          undefined,
          { along: all, across: all.map(() => 0) },
        );
        const r = step(c, state, seen);
        state = r.state;
        for (const m of r.found.flatMap((f) => f.movements)) if (m.pattern !== undefined) found.add(m.pattern);
        if (t > 12 && (!once || t === 15)) turned -= gain * (seen.along.read[3] ?? 0);
      }
      return found;
    };
    expect(overAdjusted(1.5, false)).toContain('over-adjusting');
    expect(overAdjusted(1, true)).not.toContain('over-adjusting');
  });
});
