import type { Check, CheckId, StationReading } from './record.js';
import type { Gathered, GatheredStation } from './sensor-gather.js';

/** A gathered window as the record of a sensor check. Stations with too few good readings stand in it as not read; null when no station was read. */
export const checkOfGathered = (
  gathered: Gathered,
  named: { readonly check: CheckId; readonly roll: string | null; readonly place: string | null },
): Check | null =>
  gathered.stations.every((s) => s.along.mean === null && s.across.mean === null)
    ? null
    : {
        type: 'check',
        check: named.check,
        web_m: gathered.web_m,
        roll: named.roll,
        pulled_at: new Date(gathered.at_ms).toISOString(),
        source: 'sensor',
        place: named.place,
        readings: gathered.stations.map(readingOf),
      };

const readingOf = (s: GatheredStation): StationReading => ({
  station: s.station,
  along_mm: rounded(s.along.mean),
  across_mm: rounded(s.across.mean),
  look: null,
  edge: null,
  plate: null,
  flaws: null,
  labels: null,
  n: s.good,
  spread_mm: { along: rounded(s.along.spread), across: rounded(s.across.spread) },
  strength: s.strength === null ? null : Math.round(s.strength * 1000) / 1000,
  ...(s.width_mm === null ? {} : { width_mm: rounded(s.width_mm) }),
  ...noteOf(s),
});

/** What is no register movement but belongs to the reading: marks missed, and what comes back once a repeat. */
const noteOf = (s: GatheredStation): { readonly note?: string } => {
  const words = [
    s.seen > s.good ? `${s.seen - s.good} of ${s.seen} repeats without a usable mark` : null,
    s.along.run_out === null ? null : `run-out ${s.along.run_out.toFixed(3)} mm along once a repeat`,
    s.across.run_out === null ? null : `run-out ${s.across.run_out.toFixed(3)} mm across once a repeat`,
  ].filter((w) => w !== null);
  return words.length === 0 ? {} : { note: words.join('; ') };
};

/** A hundredth of a micrometre is beyond any sensor; more digits only fill the log. */
const rounded = (value: number | null): number | null => (value === null ? null : Math.round(value * 1e5) / 1e5 + 0);
