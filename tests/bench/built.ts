/**
 * A module of the built program, typed as its source: what is timed is what is shipped. `npm run bench` builds first.
 * Example: `await built<typeof import('../../src/core/run/apply.js')>('core/run/apply.js')`.
 */
export const built = async <T>(path: string): Promise<T> =>
  (await import(new URL(`../../dist/${path}`, import.meta.url).href)) as T;
