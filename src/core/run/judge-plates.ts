import { type Job, repeatMm } from '../job.js';
import { flawOf } from '../plates/flaw.js';
import { type PlatesCheck, type PlatesConfig, stepPlates } from '../plates/plates.js';
import type { Press } from '../press.js';
import type { LogRecord } from '../record.js';
import { printedAt, samplePlace } from '../web.js';
import { nextCheck } from './next-check.js';
import type { Judged } from './state.js';
import { stationsOf } from './stations.js';

/** About one false flag in so many checks of the whole press (our choice; no source). */
const ASKED = 300;

/** Stations with a plate, in web order, and how the press changes rolls. */
export const platesConfig = (press: Press, job: Job): PlatesConfig => ({
  stations: stationsOf(press, job).flatMap((s) => (s.kind === 'print' ? [s.id] : [])),
  asked: ASKED,
  roll_change: press.roll_change,
});

/** Grades and flaw counts of one check, plate by plate. */
export const judgePlates = (
  press: Press,
  job: Job,
  judged: Judged,
  check: Extract<LogRecord, { type: 'check' }>,
): Judged => {
  const place_m = samplePlace(press, check.source, check.place) ?? press.sample_m;
  const seen: PlatesCheck['seen'] = stationsOf(press, job).flatMap((station) => {
    const of = check.readings.filter(
      (r) =>
        r.station === station.id && (r.plate !== null || r.flaws !== null || r.strength != null || r.width_mm != null),
    );
    const first = of[0];
    if (station.kind !== 'print' || first === undefined) return [];
    return [
      {
        station: station.id,
        grade: first.plate,
        flaws: first.flaws,
        labels: first.labels,
        flaw: flawOf(first),
        strength: first.strength ?? null,
        width_mm: first.width_mm ?? null,
        printed_m: printedAt(check.web_m, place_m, station.at_m),
      },
    ];
  });
  const next_check_m = nextCheck(job, judged)?.web_m ?? null;
  const { state, findings } = stepPlates(platesConfig(press, job), judged.plates, {
    check: check.check,
    web_m: check.web_m,
    seen,
    next_check_m,
    stop: nextStop(press, job, judged, check.web_m),
    places: { counters: judged.counters, length: job.units.length, repeat_mm: repeatMm(press, job) },
  });
  const said = findings.map((f) => ({
    key: `${check.check}|${f.station}|${f.state}`,
    station: f.station,
    state: f.state,
    why: f.why,
  }));
  return { ...judged, plates: state, plate_said: said };
};

/** A stop that is coming anyway: the roll change, where the press stops for it. */
const nextStop = (press: Press, job: Job, judged: Judged, web_m: number): PlatesCheck['stop'] => {
  const roll_m = judged.roll.usual_m ?? job.finished_roll_m;
  if (press.roll_change !== 'stops' || roll_m === null || roll_m <= 0) return null;
  const off_m = judged.roll.off_m ?? judged.ok?.web_m ?? 0;
  const at_m = Math.max(off_m + roll_m, web_m);
  return { web_m: at_m, why: 'the roll change', next_m: at_m + roll_m };
};
