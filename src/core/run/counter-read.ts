import type { LogRecord } from '../record.js';
import { keyCounter, reckonCounter, type WebClock } from '../web.js';
import { comesLate } from './comes-late.js';
import type { Judged } from './state.js';

/**
 * Whether a record tells a counter that was read off the press as the web stands now: an entry that may be recorded late does not, nor one
 * whose place was reckoned, nor one below what was keyed before.
 */
export const readsTheCounter = (record: LogRecord, { web }: Judged): record is LogRecord & { readonly web_m: number } =>
  'web_m' in record &&
  record.web_m !== null &&
  TELLS.has(record.type) &&
  !comesLate(record) &&
  !isReckoned(record) &&
  web.keyed_m !== null &&
  record.web_m >= web.keyed_m;

const TELLS: ReadonlySet<LogRecord['type']> = new Set([
  'pull',
  'roll',
  'finished',
  'speed',
  'stop',
  'start',
  'plate',
  'die',
  'web-set',
  'position',
  'shift',
  'end',
]);

const isReckoned = (record: object): boolean => 'counter' in record && record.counter === 'estimated';

/** The counter never goes back: an entry recorded late leaves the position where it is. */
const at_m = (judged: Judged, record: { readonly web_m: number }): number =>
  judged.web.keyed_ms === null ? record.web_m : Math.max(judged.web.base_m, record.web_m);

/** The counter as read, or null where it was only reckoned: then the count is carried on to this moment. */
export const read_m = (judged: Judged, record: { readonly web_m: number }): number | null =>
  isReckoned(record) && judged.web.keyed_ms !== null ? null : at_m(judged, record);

export const counterAt = (judged: Judged, record: { readonly web_m: number; readonly at: string }): WebClock => {
  if (judged.web.keyed_ms !== null && record.web_m < judged.web.base_m) return judged.web;
  const take = isReckoned(record) && judged.web.keyed_ms !== null ? reckonCounter : keyCounter;
  return take(judged.web, record.web_m, Date.parse(record.at));
};
