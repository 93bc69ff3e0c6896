import type { LogRecord } from '../core/record.js';
import { begin } from '../core/run/begin.js';
import type { RunState } from '../core/run/state.js';
import { type RunTeller, runTeller } from '../core/views/run-teller.js';
import { CHAIN_START, chainTo } from '../store/byte-chain.js';
import { readCheckpoint, writeCheckpoint } from '../store/checkpoint.js';
import { programMark } from '../store/program-mark.js';
import { LOG_START, type LogPlace } from '../store/read-log.js';
import { takeRecord } from './take-record.js';

/** A run told up to its last record. */
export type Told = { readonly teller: RunTeller; readonly state: RunState };

/** A run that is being told from its log. */
export type Telling = {
  /** Where the log is read from: what stands before was told before, and kept. */
  readonly from: LogPlace;
  take(record: LogRecord): void;
  /** null = no record yet that begins a run. */
  told(): Told | null;
  /** Keeps what was told up to this place, when that spares the next telling some work. Trouble with it is none of the run's. */
  keep(place: LogPlace): void;
};

/** So many records more than were kept are worth keeping: that is about a second. */
const WORTH = 2000;

/** From what was kept of an earlier telling, when the log bears that out; it is told up to `upto` only. */
export const telling = (folder: string, upto = Number.POSITIVE_INFINITY): Telling => {
  const found = readCheckpoint(folder, programMark(), 'told.json');
  const kept = found.ok && found.value !== null && found.value.chain.place.seq <= upto ? found.value : null;
  const teller = runTeller(kept?.teller);
  let state: RunState | null = kept?.state ?? null;
  return {
    from: kept?.chain.place ?? LOG_START,
    take: (record) => {
      if (record.seq > upto) return;
      const before = state;
      if (before === null) {
        const begun = begin(record);
        if (!begun.ok) return;
        state = begun.value;
        teller.take(record, null, state, []);
        return;
      }
      const applied = takeRecord(folder, before, record);
      state = applied.state;
      teller.take(record, before, state, applied.found);
    },
    told: () => (state === null ? null : { teller, state }),
    keep: (place) => {
      const since = kept?.chain ?? CHAIN_START;
      if (state === null || state.seq !== place.seq || place.seq - since.place.seq < WORTH) return;
      const chain = chainTo(folder, since, place);
      if (chain.ok)
        writeCheckpoint(folder, programMark(), { chain: chain.value, state, teller: teller.kept() }, 'told.json');
    },
  };
};
