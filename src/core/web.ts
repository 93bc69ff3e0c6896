import type { Press } from './press.js';

/**
 * Web position at which a station printed what stands at `place_m` of the web path when the counter reads `web_m`:
 * the sample left station k a web path ago. Metres throughout. Source: CONTRACT of the press file, W − (place − at).
 * Example: a sample at 12.0 m pulled at 21 450 m left the station at 3.9 m at 21 441.9 m.
 */
export const printedAt = (web_m: number, place_m: number, at_m: number): number => web_m - (place_m - at_m);

/** Counter value beyond which a sample pulled at `place_m` shows what a station does from `moved_m` on: the other way round. */
export const tellsFrom = (moved_m: number, place_m: number, at_m: number): number => moved_m + (place_m - at_m);

/**
 * Where on the web path a sample stands when the counter is read: `sample_m`, a named place of the press file, or the
 * sensor's place. null: the press file knows no such place (the caller says so; nothing is guessed).
 */
export const samplePlace = (press: Press, source: 'keyed' | 'sensor', place: string | null): number | null => {
  if (place !== null && place !== '') {
    const named = press.samples[place];
    if (named !== undefined) return named;
    if (place === 'sensor') return press.sensor_m ?? press.sample_m;
    return place === 'sample' ? press.sample_m : null;
  }
  return source === 'sensor' ? (press.sensor_m ?? press.sample_m) : press.sample_m;
};

/** The web position carried on between two readings of the counter; times are milliseconds of the record's own clock. */
export type WebClock = {
  /** Where and when the count stood that we carry on from. */
  readonly base_m: number;
  readonly base_ms: number;
  /** When the counter was last read off the press; null = never. */
  readonly keyed_ms: number | null;
  /** What it said then; what was reckoned since may turn out too far. */
  readonly keyed_m: number | null;
  readonly speed_m_per_min: number | null;
  readonly running: boolean;
};

/** `speed_known` false: the press runs, but at no known speed, so the position is only where it last was. */
export type WebEstimate = {
  readonly web_m: number;
  readonly counter: 'keyed' | 'estimated';
  readonly age_s: number;
  readonly speed_known: boolean;
};

export const initialWebClock: WebClock = {
  base_m: 0,
  base_ms: 0,
  keyed_ms: null,
  keyed_m: null,
  speed_m_per_min: null,
  running: false,
};

/** A counter value read off the press; keeps speed and whether it runs. */
export const keyCounter = (clock: WebClock, web_m: number, atMs: number): WebClock => ({
  ...clock,
  base_m: web_m,
  base_ms: atMs,
  keyed_ms: atMs,
  keyed_m: web_m,
});

/** A place that was reckoned, not read: the count goes on from there, and is as old as it was. */
export const reckonCounter = (clock: WebClock, web_m: number, atMs: number): WebClock => ({
  ...clock,
  base_m: web_m,
  base_ms: atMs,
});

/** Speed told: what was run until now was run at the old speed. A speed of 0 is a stop. */
export const setSpeed = (clock: WebClock, speedMPerMin: number, atMs: number): WebClock => ({
  ...carry(clock, atMs),
  speed_m_per_min: speedMPerMin > 0 ? speedMPerMin : clock.speed_m_per_min,
  running: speedMPerMin > 0,
});

/** Press stopped; `web_m` when the counter was read then. */
export const stopWeb = (clock: WebClock, web_m: number | null, atMs: number): WebClock => ({
  ...at(clock, web_m, atMs),
  running: false,
});

/** Press started, at a new speed or the one it had. */
export const startWeb = (
  clock: WebClock,
  web_m: number | null,
  speedMPerMin: number | null,
  atMs: number,
): WebClock => ({
  ...at(clock, web_m, atMs),
  running: true,
  speed_m_per_min: speedMPerMin ?? clock.speed_m_per_min,
});

/**
 * Web position now: the last counter read, carried on at the last speed while the press runs, standing while it does not.
 * null before any counter was read. A clock that jumped back adds nothing. Example: 21 000 m, 120 m/min, 90 s later 21 180 m.
 */
export const estimateWeb = (clock: WebClock, nowMs: number): WebEstimate | null => {
  if (clock.keyed_ms === null) return null;
  const moved = clock.running && nowMs > clock.keyed_ms;
  return {
    web_m: carry(clock, nowMs).base_m,
    counter: moved ? 'estimated' : 'keyed',
    age_s: Math.max(0, (nowMs - clock.keyed_ms) / 1000),
    speed_known: !clock.running || clock.speed_m_per_min !== null,
  };
};

/** The clock itself was set by so much: no time passed, and no web. */
export const setClock = (clock: WebClock, byMs: number): WebClock => ({
  ...clock,
  base_ms: clock.base_ms + byMs,
  keyed_ms: clock.keyed_ms === null ? null : clock.keyed_ms + byMs,
});

const at = (clock: WebClock, web_m: number | null, atMs: number): WebClock =>
  web_m === null ? carry(clock, atMs) : keyCounter(clock, web_m, atMs);

const carry = (clock: WebClock, nowMs: number): WebClock => {
  const run_m =
    clock.running && clock.speed_m_per_min !== null
      ? (clock.speed_m_per_min / 60_000) * Math.max(0, nowMs - clock.base_ms)
      : 0;
  return { ...clock, base_m: clock.base_m + run_m, base_ms: nowMs };
};
