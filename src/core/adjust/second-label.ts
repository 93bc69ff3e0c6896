import type { PlanInput } from './plan-input.js';

/**
 * Stations to read on a second label before the reference, or more than one station, is moved. One misread reference mark
 * looks exactly like the reference moving, so the label must be another one and the stations few: the named ones (the worst three),
 * or the worst and the one farthest from it along the web (a web cause is largest there). The die only if nothing else is left.
 */
export const secondLabel = (input: PlanInput): readonly string[] => {
  const readable = input.stations.filter((station) => station.id !== input.reference && station.measured);
  const prints = readable.filter((station) => station.kind === 'print');
  const pool = prints.length >= 2 ? prints : readable;
  const { cause } = input;
  const named = cause.kind === 'several' ? readable.filter((station) => cause.stations.includes(station.id)) : [];
  if (named.length > 1) {
    const chosen = named.toSorted((a, b) => share(b) - share(a)).slice(0, MOST);
    return input.stations.filter((station) => chosen.includes(station)).map((station) => station.id);
  }
  const worst = pool.reduce<(typeof pool)[number] | null>(
    (best, next) => (best === null || share(next) > share(best) ? next : best),
    null,
  );
  if (worst === null) return [];
  const far = pool
    .filter((station) => station.id !== worst.id)
    .reduce<(typeof pool)[number] | null>(
      (best, next) =>
        best === null || Math.abs(next.path_m - worst.path_m) > Math.abs(best.path_m - worst.path_m) + 1e-9
          ? next
          : best,
      null,
    );
  const chosen = new Set(far === null ? [worst.id] : [worst.id, far.id]);
  return input.stations.filter((station) => chosen.has(station.id)).map((station) => station.id);
};

const MOST = 3;

const share = (station: PlanInput['stations'][number]): number =>
  Math.abs(station.level_mm ?? 0) / Math.max(station.tolerance_mm, 1e-9);
