import { fail, ok, type Result } from '../result.js';

/** `c` flaws in samples of one size, `u` flaws over the labels looked at, `p` bad labels out of those inspected. */
export type CountKind = 'c' | 'u' | 'p';

/** One sample: its place (from 1), what was counted, and how much was looked at (1 for c). */
export type CountSample = { readonly i: number; readonly count: number; readonly size: number };

type Sizes = { readonly kind: CountKind; readonly size?: number | readonly (number | null)[] };

/** Counts beside their sizes, missing ones left out. Refused, with the place: what is no count, no size, or too few. */
export const countSamples = (counts: readonly (number | null)[], settings: Sizes): Result<readonly CountSample[]> => {
  const { kind, size } = settings;
  if (kind !== 'c' && size === undefined) {
    return fail(`${kind} needs the size of each sample: the number of ${kind === 'p' ? 'items inspected' : 'labels'}`);
  }
  const samples: CountSample[] = [];
  for (const [at, count] of counts.entries()) {
    if (count === null) continue;
    if (!Number.isInteger(count) || count < 0) {
      return fail(`a count must be a whole number, 0 or more, got ${count}`, `value ${at + 1}`);
    }
    const own = kind === 'c' ? 1 : typeof size === 'number' ? size : (size?.[at] ?? null);
    if (own === null) return fail('a count without the size of its sample', `value ${at + 1}`);
    if (!(own > 0) || !Number.isFinite(own)) {
      return fail(`the size of a sample must be above 0, got ${own}`, `value ${at + 1}`);
    }
    if (kind === 'p' && !Number.isInteger(own)) {
      return fail(`items inspected must be a whole number, got ${own}`, `value ${at + 1}`);
    }
    if (kind === 'p' && count > own) return fail(`${count} bad items out of ${own} inspected`, `value ${at + 1}`);
    samples.push({ i: at + 1, count, size: own });
  }
  if (samples.length < 2) return fail(`${kind} needs at least 2 counts, got ${samples.length}`);
  return ok(samples);
};
