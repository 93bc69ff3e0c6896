import type { BoardView, StationView } from '../../core/views/board-view.js';

/** Where a station stands on the strip: the middle of its column, and how wide its words may be. */
export type Column = {
  readonly station: StationView;
  readonly x: number;
  readonly left: number;
  readonly width: number;
};

/**
 * One column a station in web order, at its place along the path as far as the words leave room:
 * places in proportion to metres of web, pushed apart to the least width; evenly when even that does not fit.
 */
export function columns(
  view: Pick<BoardView, 'stations' | 'web_runs'>,
  gutter: number,
  width: number,
): readonly Column[] {
  const n = view.stations.length;
  const room = width - gutter;
  if (n === 0 || room < n) return [];
  const slot = Math.floor(room / n);
  const least = Math.min(slot, 9);
  const at = places(view.stations, least, room);
  const middles = view.web_runs === 'right-to-left' ? at.map((x) => room - 1 - x) : at;
  const xs = middles.map((x) => gutter + Math.round(x));
  return view.stations.map((station, i) => {
    const x = xs[i] ?? gutter;
    const others = xs.filter((_, k) => k === i - 1 || k === i + 1);
    // Words reach half way to the neighbours, with a blank between.
    const from = Math.max(
      gutter,
      ...others.filter((other) => other < x).map((other) => Math.floor((other + x) / 2) + 1),
    );
    const to = Math.min(width, ...others.filter((other) => other > x).map((other) => Math.floor((other + x) / 2)));
    return { station, x, left: from, width: Math.max(1, to - from) };
  });
}

function places(stations: readonly StationView[], least: number, room: number): readonly number[] {
  const edge = least / 2;
  const first = stations[0]?.at_m ?? 0;
  const span = (stations[stations.length - 1]?.at_m ?? 0) - first;
  const even = stations.map(
    (_, i) => edge + (stations.length === 1 ? 0 : (i * (room - 2 * edge)) / (stations.length - 1)),
  );
  if (!(span > 0)) return even;
  const wanted = stations.map((one) => edge + ((one.at_m - first) / span) * (room - 2 * edge));
  for (let i = 1; i < wanted.length; i += 1) wanted[i] = Math.max(wanted[i] ?? 0, (wanted[i - 1] ?? 0) + least);
  // What was pushed past the end is pushed back from the end.
  for (let i = wanted.length - 1; i >= 0; i -= 1) {
    const limit = i === wanted.length - 1 ? room - edge : (wanted[i + 1] ?? 0) - least;
    wanted[i] = Math.min(wanted[i] ?? 0, limit);
  }
  return wanted;
}
