import type { PlateFinding } from '../../../src/core/finding.js';
import {
  initialPlates,
  noteWash,
  type PlateSeen,
  type PlatesConfig,
  type PlatesState,
  stepPlates,
} from '../../../src/core/plates/plates.js';

export const config: PlatesConfig = { stations: ['1', '2', '3', '4', '5', '6'], asked: 300, roll_change: null };

export type Step =
  | { readonly wash: string; readonly web_m: number }
  | {
      readonly web_m: number;
      readonly seen: readonly (Partial<PlateSeen> & { readonly station: string })[];
      readonly next?: number;
      readonly stop?: number;
    };

/** Folds looks and washes of an invented press; checks are counted from 1. */
export const fold = (
  steps: readonly Step[],
  over: Partial<PlatesConfig> = {},
  start: PlatesState = initialPlates(),
) => {
  const findings: (PlateFinding & { readonly check: number })[] = [];
  let state = start;
  let check = 0;
  for (const step of steps) {
    if ('wash' in step) {
      state = noteWash(state, step.wash, step.web_m);
      continue;
    }
    check += 1;
    const done = stepPlates({ ...config, ...over }, state, {
      check,
      web_m: step.web_m,
      seen: step.seen.map((one) => ({
        grade: null,
        flaws: null,
        labels: null,
        printed_m: step.web_m - 8,
        ...one,
      })),
      next_check_m: step.next ?? null,
      stop: step.stop === undefined ? null : { web_m: step.stop, why: 'the roll change', next_m: step.stop + 2000 },
    });
    state = done.state;
    for (const finding of done.findings) findings.push({ ...finding, check });
  }
  return { state, findings };
};

export const grade = (station: string, of: PlateSeen['grade'], web_m: number): Step => ({
  web_m,
  seen: [{ station, grade: of }],
});
export const count = (station: string, flaws: number, labels: number, web_m: number): Step => ({
  web_m,
  seen: [{ station, flaws, labels }],
});
