import type { Axis } from '../core/axis.js';
import type { Finding, Move } from '../core/finding.js';
import type { Job } from '../core/job.js';
import { flawFields } from '../core/plates/flaw.js';
import type { Press } from '../core/press.js';
import type { LogRecord, RecordBody, StationReading } from '../core/record.js';
import { admit } from '../core/run/admit.js';
import { apply } from '../core/run/apply.js';
import { begin, RULES } from '../core/run/begin.js';
import type { RunState } from '../core/run/state.js';
import { type Station, stationsOf } from '../core/run/stations.js';
import { SCENARIO as S } from './scenario.js';
import { seeded } from './seeded.js';

/** The shift of the scenario, worked by an operator who does what the program says: every record of it, and what each made known. */
export const scriptedRun = (
  press: Press,
  job: Job,
): {
  readonly records: readonly LogRecord[];
  readonly found: readonly (readonly Finding[])[];
  readonly state: RunState;
} => {
  const random = seeded(S.seed);
  const stations = stationsOf(press, job);
  const records: LogRecord[] = [];
  const found: (readonly Finding[])[] = [];
  const turned = new Map<string, number>();
  let at = Date.parse(S.begins);
  let state: RunState | null = null;

  const write = (body: RecordBody, by = 'MK'): void => {
    const record: LogRecord = { v: 1, seq: records.length + 1, at: new Date(at).toISOString(), by, ...body };
    if (state === null) {
      const begun = begin(record);
      if (!begun.ok) throw new Error(begun.problem.message);
      state = begun.value;
      records.push(record);
      found.push([]);
      return;
    }
    const fit = admit(state, body);
    if (!fit.ok) throw new Error(`${body.type}: ${fit.problem.message}`);
    const applied = apply(state, record);
    state = applied.state;
    records.push(record);
    found.push(applied.found);
  };
  const now = (): RunState => {
    if (state === null) throw new Error('the run has not begun');
    return state;
  };
  const reading = (
    station: Station,
    index: number,
    check: number,
    tremble: readonly number[],
    shared: number,
  ): StationReading => {
    const of = (axis: Axis): number | null => {
      if (station.id === now().judged.reference || station.read !== 'measure') return null;
      const truth =
        movedBy(station, stations, axis, check) +
        (turned.get(`${station.id} ${axis}`) ?? 0) -
        (turned.get(`${job.reference} ${axis}`) ?? 0);
      const mm = truth + (tremble[index] ?? 0) - shared + S.reading_sd_mm * random.normal();
      return Math.round(mm / S.resolution_mm) * S.resolution_mm + 0;
    };
    const slip = S.slip.check === check && S.slip.station === station.id;
    const along = of('along');
    const across = of('across');
    const flaws = station.kind === 'print' ? flawsOf(station.id, check, random.uniform) : null;
    return {
      station: station.id,
      along_mm: tidy(slip ? S.slip.along_mm : along),
      across_mm: tidy(across),
      look: station.read === 'look' ? 'in' : null,
      edge: null,
      plate: flaws === null ? null : gradeOf(flaws),
      flaws: flaws !== null && flaws > 0 ? flaws : null,
      labels: flaws !== null && flaws > 0 ? S.labels_looked : null,
      ...(flaws !== null && growing(station.id, check) && gradeOf(flaws) !== 'clean' ? flawFields(S.plate.flaw) : {}),
    };
  };
  const check = (n: number, web_m: number, roll: string | null): void => {
    const tremble = stations.map(() => S.tremble_sd_mm * random.normal());
    const shared = S.tremble_sd_mm * random.normal();
    write({ type: 'pull', check: n, web_m, roll, counter: 'keyed', place: null });
    const pulled_at = new Date(at).toISOString();
    at += 70_000;
    write({
      type: 'check',
      check: n,
      web_m,
      roll,
      pulled_at,
      source: 'keyed',
      place: null,
      readings: stations.map((s, i) => reading(s, i, n, tremble, shared)),
    });
  };
  const obey = (web_m: number): void => {
    for (const move of adviceNow(now())) {
      at += 20_000;
      write({
        type: 'correction',
        station: move.station,
        axis: move.axis,
        move_mm: move.move_mm,
        teeth: move.teeth,
        divisions: move.divisions,
        web_m,
      });
      const got = move.move_mm * (1 + S.knob_error * random.normal());
      turned.set(`${move.station} ${move.axis}`, (turned.get(`${move.station} ${move.axis}`) ?? 0) + got);
    }
  };

  write({ type: 'begin', run: 'demo', press, job, rules: RULES, program: 'demo', time_zone: 'UTC' }, 'program');
  check(1, 0, null);
  write({ type: 'ok', web_m: 0, zero_m: 0, passed_by: 'MK', check: 1, hold_to: 'aim' });
  write({ type: 'speed', web_m: 0, m_per_min: S.speed_m_min });
  for (let n = 2; n <= S.checks + 1; n++) {
    const web_m = (n - 1) * S.roll_m;
    at += (S.roll_m / S.speed_m_min) * 60_000;
    const roll = String(n - 1);
    write({ type: 'finished', web_m, roll });
    if (n === S.tension.from) write({ type: 'roll', web_m, length_m: 6000 });
    if (n === S.plate.washed) {
      write({ type: 'stop', web_m });
      at += 240_000;
      write({ type: 'wash', station: S.plate.station, web_m });
      write({ type: 'start', web_m });
    }
    if (n === S.tension.until)
      write({ type: 'note', web_m, text: 'Unwind tension set back to what the last stock ran at.' });
    if (n === S.reference.until)
      write({
        type: 'note',
        web_m,
        text: 'Lock of the knob of 1 opaque white found loose, done up.',
        station: job.reference,
      });
    check(n, web_m, roll);
    obey(web_m + 30);
  }
  at += 120_000;
  write({ type: 'end', web_m: S.checks * S.roll_m + 40 });
  return { records, found, state: now() };
};

/** What the open movements ask to be turned now; nothing is turned twice while a move is waited for. */
const adviceNow = (state: RunState): readonly Move[] =>
  state.judged.movements.flatMap((m) =>
    m.closed === null && !m.waiting && m.severity !== 'note' ? (m.advice?.moves ?? []) : [],
  );

/** Where a station's reading has been brought by what befell the press, mm. */
const movedBy = (station: Station, stations: readonly Station[], axis: Axis, check: number): number => {
  let mm = 0;
  if (axis === 'along') {
    mm -= Math.max(0, Math.min(check, S.reference.until) - S.reference.from) * S.reference.mm_per_check;
    const from = stations[0]?.at_m ?? 0;
    if (check > S.tension.from && check <= S.tension.until) mm += S.tension.mm_per_m * (station.at_m - from);
  }
  if (S.knock.station === station.id && S.knock.axis === axis && check >= S.knock.check) mm += S.knock.mm;
  return mm;
};

const growing = (station: string, check: number): boolean =>
  station === S.plate.station && check >= S.plate.from && check < S.plate.washed;

/** Flaws counted on the labels looked at (Poisson, by its exponential gaps). */
const flawsOf = (station: string, check: number, uniform: () => number): number => {
  const rate =
    (S.plate.usual * (station === S.plate.station ? 1 : 0.2) +
      (growing(station, check) ? S.plate.growth * (check - S.plate.from + 1) : 0)) *
    S.labels_looked;
  const gap = (): number => -Math.log(1 - uniform());
  let count = 0;
  let place = gap();
  while (place < rate) {
    count += 1;
    place += gap();
  }
  return count;
};

const gradeOf = (flaws: number): StationReading['plate'] => (flaws >= 5 ? 'dirty' : flaws >= 3 ? 'building' : 'clean');

const tidy = (mm: number | null): number | null => (mm === null ? null : Math.round(mm * 1000) / 1000 + 0);
