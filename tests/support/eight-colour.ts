import type { Axis, PerAxis } from '../../src/core/axis.js';
import type { PlateGrade } from '../../src/core/record.js';
import type { RunState } from '../../src/core/run/state.js';
import { seeded } from './seeded.js';
import { type TryRun, tryRun } from './try-run.js';

/** An eight-colour press of our own whose counter stood at 9 400 m when OK to run was given, as most do not stand at zero. */
const INKS = ['opaque white', 'plum', 'leaf', 'grey', 'black', 'cream', 'berry', 'gold'];

export const EIGHT_PRESS = {
  name: 'Line C',
  stations: [
    ...INKS.map((_, i) => ({ id: String(i + 1), kind: 'print', at_m: 1.5 + i * 1.2 })),
    { id: 'D', kind: 'die', at_m: 12.6, fixed: ['across'] },
  ],
  sample_m: 18,
  knobs: {
    along: { division_mm: 0.05, travel_mm: 3, sense: 1, while_running: true, to_advance: 'clockwise' },
    across: { division_mm: 0.05, travel_mm: 5, sense: 1, while_running: true, to_operator: 'clockwise' },
  },
};

export const EIGHT_JOB = {
  stations: [...INKS.map((ink, i) => ({ id: String(i + 1), ink })), { id: 'D' }],
  pairs: [{ stations: ['2', '3'], along_mm: 0.18, across_mm: 0.18 }],
  reading: { resolution_mm: 0.01, spread_mm: { along: 0.03, across: 0.03 }, spread_worth_checks: 10 },
  checks: { every_roll: true, every_m: 1500 },
};

export const OK_COUNTER_M = 9_400;
const M_PER_MIN = 120;
const BEGAN_MS = Date.parse('2026-11-24T05:30:00.000Z');
const READ = ['2', '3', '4', '5', '6', '7', '8', 'D'];

type Plate = { readonly grade: PlateGrade; readonly flaws?: number; readonly labels?: number };

/** The press as it truly stands, what the loupe reads off it, and the log of it. Everything the operator keys is at the press counter. */
export type Shift = {
  readonly run: TryRun;
  /** Register as it truly is, mm, by station: set it and the next sample shows it. */
  readonly truth: PerAxis<Record<string, number>>;
  /** Runs the web on to this counter, m. */
  readonly to: (counter_m: number) => void;
  readonly web_m: () => number;
  readonly at_ms: () => number;
  /** A full check where the web stands; a reading may be set (a misread), a plate graded, stations left out. */
  readonly check: (said?: {
    readonly misread?: Readonly<Record<string, number>>;
    readonly plates?: Readonly<Record<string, Plate>>;
    readonly only?: readonly string[];
  }) => void;
  readonly roll: () => void;
  /** So many divisions turned, + ahead / + operator side; the print moves with them. */
  readonly turn: (station: string, axis: Axis, divisions: number) => void;
};

const begun = (length: 'm' | 'ft'): TryRun =>
  tryRun({
    press: EIGHT_PRESS,
    job: { ...EIGHT_JOB, units: { register: 'mm', length } },
    make_ready: true,
    began_ms: BEGAN_MS,
  });

/** The same press before anything was read. */
export const eightColourMakeReady = (
  length: 'm' | 'ft' = 'm',
): { readonly state: RunState; readonly at_ms: number } => {
  const run = begun(length);
  run.put({ type: 'position', web_m: OK_COUNTER_M - 200 }, BEGAN_MS);
  return { state: run.state(), at_ms: BEGAN_MS + 20_000 };
};

/** From make-ready to OK to run at counter 9 400, with one full check that passes. `length`: the job's unit of length. */
export const eightColourShift = (length: 'm' | 'ft' = 'm'): Shift => {
  const run = begun(length);
  const noise = seeded(17).normal;
  const truth = { along: {} as Record<string, number>, across: {} as Record<string, number> };
  let web_m = OK_COUNTER_M - 60;
  let ok = false;
  let at_ms = BEGAN_MS;
  let n = 0;
  let rolls = 0;
  const put: TryRun['put'] = (body) => {
    at_ms += 1000;
    return run.put(body, at_ms);
  };
  const read = (id: string, axis: Axis): number => {
    const mm = (truth[axis][id] ?? 0) - (truth[axis]['1'] ?? 0) + noise() * 0.02;
    return Math.round(mm * 100) / 100;
  };
  const check: Shift['check'] = ({ misread = {}, plates = {}, only = READ } = {}) => {
    n += 1;
    put({
      type: 'check',
      check: n,
      web_m,
      roll: ok ? String(rolls + 1) : null,
      pulled_at: new Date(at_ms).toISOString(),
      source: 'keyed',
      place: null,
      readings: ['1', ...READ].flatMap((id) => {
        // A full check looks at every plate as well.
        const plate = plates[id] ?? (only === READ && id !== 'D' ? { grade: 'clean' as const } : undefined);
        const along_mm = id === '1' || !only.includes(id) ? null : (misread[id] ?? read(id, 'along'));
        const across_mm = id === '1' || id === 'D' || !only.includes(id) ? null : read(id, 'across');
        if (along_mm === null && plate === undefined) return [];
        const seen = { plate: plate?.grade ?? null, flaws: plate?.flaws ?? null, labels: plate?.labels ?? null };
        return [{ station: id, along_mm, across_mm, look: null, edge: null, ...seen }];
      }),
    });
  };
  const to = (counter_m: number): void => {
    const here_m = ok ? counter_m - OK_COUNTER_M : counter_m;
    at_ms += ((here_m - web_m) / M_PER_MIN) * 60_000;
    web_m = here_m;
  };
  check();
  to(OK_COUNTER_M);
  put({ type: 'ok', web_m, zero_m: web_m, passed_by: 'MK', check: 1, hold_to: 'aim' });
  ok = true;
  web_m = 0;
  put({ type: 'speed', web_m, m_per_min: M_PER_MIN });
  return {
    run: { ...run, put },
    truth,
    to,
    web_m: () => web_m,
    at_ms: () => at_ms,
    check,
    roll: () => {
      rolls += 1;
      put({ type: 'finished', web_m, roll: String(rolls) });
    },
    turn: (station, axis, divisions) => {
      truth[axis][station] = (truth[axis][station] ?? 0) + divisions * 0.05;
      put({ type: 'correction', station, axis, move_mm: divisions * 0.05, teeth: 0, divisions, web_m });
    },
  };
};
