import type { LogRecord, RecordHead, Withdraw } from '../record.js';
import type { Act } from '../run/state.js';
import { actWords } from './act-words.js';
import type { EventNames } from './event-words.js';

/**
 * What was taken back, why, and what was keyed in its place: "Taken back: 3 leaf retarded 5 divisions (0.10 mm) at 4 010 m (entry 14), turned
 * the wrong knob; in its place: 2 plum retarded …". In its place stands the next entry of its kind, of a check the next off the same place.
 */
export const takeBackWords = (record: RecordHead & Withdraw, acts: readonly Act[], names: EventNames): string => {
  const gone = acts.find((a) =>
    record.entry !== null
      ? a.seq === record.entry
      : a.record.type === 'check' && a.record.check === record.check && a.seq < record.seq,
  );
  const what =
    gone === undefined ? actWords(record, names) : `Taken back: ${actWords(gone.record, names)} (entry ${gone.seq})`;
  const why = record.why === undefined ? '' : `, because: ${record.why}`;
  const next =
    gone === undefined
      ? undefined
      : acts.find((a) => a.seq > record.seq && !a.withdrawn && replaces(a.record, gone.record));
  return `${what}${why}${next === undefined ? '' : `; in its place: ${actWords(next.record, names)} (entry ${next.seq})`}`;
};

/** So near is the same place of the web, m. */
const SAME_M = 1;

const replaces = (now: LogRecord, gone: LogRecord): boolean => {
  if (now.type !== gone.type) return false;
  const apart = 'web_m' in now && 'web_m' in gone ? Math.abs((now.web_m ?? 0) - (gone.web_m ?? 0)) : 0;
  return now.type === 'check' ? apart <= SAME_M : apart <= NEAR_M;
};

/** An act keyed anew may be put at another counter: this far (own choice). */
const NEAR_M = 500;
