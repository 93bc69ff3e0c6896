import { turnOf } from '../adjust/turn.js';
import { placeWords } from '../counter.js';
import { flawList, flawOf } from '../plates/flaw.js';
import type { Check, Correction, LogRecord } from '../record.js';
import { type EventNames, listWords } from './event-words.js';
import { lengthWords, rateWords, sizeWords } from './number-words.js';

/** "4 grey retarded 2 divisions (0.10 mm)": a correction as turned. */
export const turnedWords = (
  turn: Pick<Correction, 'station' | 'axis' | 'move_mm' | 'teeth' | 'divisions'>,
  names: EventNames,
): string => {
  const label = names.labels[turn.station] ?? turn.station;
  const parts = [countWords(turn.teeth, 'tooth', 'teeth'), countWords(turn.divisions, 'division', 'divisions')].filter(
    (p) => p !== '',
  );
  const size = sizeWords(turn.move_mm, names.register);
  return `${label} ${WENT[turnOf(turn.axis, turn.move_mm)]} ${parts.length === 0 ? size : `${parts.join(' and ')} (${size})`}`;
};

/** A turn made to measure the knob: how far it moved the print is not known yet. */
const trialWords = (turn: Correction, names: EventNames): string =>
  `${names.labels[turn.station] ?? turn.station} ${WENT[turnOf(turn.axis, turn.move_mm)]} ${countWords(turn.divisions, 'division', 'divisions')} to measure its knob`;

const WENT = {
  advance: 'advanced',
  retard: 'retarded',
  'to operator side': 'moved to the operator side',
  'to gear side': 'moved to the gear side',
} as const;

const countWords = (n: number | null, one: string, many: string): string =>
  n === null || n === 0 ? '' : `${Math.abs(n)} ${Math.abs(n) === 1 ? one : many}`;

/** One entry of the log as a person tells it. */
export const actWords = (record: LogRecord, names: EventNames): string => {
  const label = (id: string): string => names.labels[id] ?? id;
  const at = (m: number): string => placeWords(m, names);
  const long = (m: number): string => lengthWords(m, names.length, names.repeat_mm);
  switch (record.type) {
    case 'begin':
      return `Run opened in make-ready: ${record.job.name} on ${record.press.name}`;
    case 'pull':
      return `Sample ${record.check} pulled at ${at(record.web_m)}`;
    case 'check':
      return `Check ${record.check}: ${checkWords(record.readings.filter((r) => r.along_mm !== null || r.across_mm !== null).length, record.readings.filter((r) => r.look !== null).length)}${uncleanWords(record, label)}`;
    case 'ok':
      return `OK to run, passed by ${record.passed_by}; held to ${record.hold_to === 'aim' ? 'dead register' : 'the sample that was passed'}`;
    case 'correction':
      return `${record.trial === true ? trialWords(record, names) : turnedWords(record, names)} at ${at(record.web_m)}`;
    case 'knob':
      return `Knob of ${label(record.station)} measured ${record.axis}: one division moves the print ${rateWords(record.division_mm, names.register)}, ${markWords(record.sense)}`;
    case 'roll':
      return `New stock roll${record.stock === undefined ? '' : ` ${record.stock}`}${record.lot === undefined ? '' : ` (lot ${record.lot})`} at ${at(record.web_m)}${record.length_m === null ? '' : `, ${long(record.length_m)} long`}`;
    case 'finished':
      return `Finished roll ${record.roll} off at ${at(record.web_m)}`;
    case 'wash':
      return record.station === 'all' ? 'All plates washed' : `Plate washed: ${label(record.station)}`;
    case 'speed':
      return `Speed ${record.m_per_min} m/min`;
    case 'stop':
      return `Stopped at ${at(record.web_m)}`;
    case 'start':
      return `Running again from ${at(record.web_m)}`;
    case 'plate':
      return `New or remounted plate: ${label(record.station)}`;
    case 'die':
      return 'Die changed';
    case 'reference':
      return `Reference is now ${label(record.station)}`;
    case 'tolerance':
      return `Tolerance of ${label(record.station)}: ${listWords([
        ...(record.along_mm === null ? [] : [`along ${sizeWords(record.along_mm, names.register)}`]),
        ...(record.across_mm === null ? [] : [`across ${sizeWords(record.across_mm, names.register)}`]),
      ])} each way`;
    case 'web-set':
      return `${WEB_SET[record.what]} changed at ${at(record.web_m)}${record.looked_to === undefined ? '' : `: ${record.looked_to}`}`;
    case 'seen':
      return 'What was showing has been seen';
    case 'withdraw':
      return record.check === null
        ? `Entry ${record.entry} taken back`
        : `Check ${record.check} taken back, or its sample thrown away`;
    case 'counter':
      return `Press counter set anew to ${long(record.web_m - record.offset_m)}`;
    case 'position':
      return `Counter read: ${at(record.web_m)}`;
    case 'shift':
      return `Shift change: ${record.outgoing} to ${record.incoming ?? 'nobody yet'}${record.note === null ? '' : ` (${record.note})`}`;
    case 'note':
      return record.station === undefined ? record.text : `${label(record.station)}: ${record.text}`;
    case 'sensor':
      return `Sensor ${SENSOR[record.state]}${record.detail === '' ? '' : `: ${record.detail}`}`;
    case 'hold':
      return `${record.rolls.length === 1 ? 'Roll' : 'Rolls'} ${listWords(record.rolls)}: ${HOLD_WORDS[record.state]}${record.by_second === undefined ? '' : `, second ${record.by_second}`}${record.note === undefined ? '' : ` (${record.note})`}`;
    case 'held':
      return `Put on hold by hand: ${record.rolls.length === 0 ? `${at(record.from_m ?? 0)} to ${record.to_m === null ? 'now' : at(record.to_m)}` : `${record.rolls.length === 1 ? 'roll' : 'rolls'} ${listWords(record.rolls)}`} (${record.why})`;
    case 'end':
      return `Run ended at ${at(record.web_m)}`;
  }
};

/** Whether a knob's mark says what the print does. */
export const markWords = (sense: 1 | -1): string =>
  sense === 1 ? 'the mark says the truth' : 'the mark says the opposite';

/** What became of held product, as it is said. */
export const HOLD_WORDS = {
  hold: 'on hold',
  're-inspect': 'being re-inspected',
  released: 'released',
  reworked: 'reworked',
  scrapped: 'scrapped',
} as const;

const WEB_SET = { tension: 'Tension', dryer: 'Dryer', stock: 'Stock', 'web guide': 'Web guide' } as const;

const SENSOR = {
  attached: 'attached',
  lost: 'lost',
  back: 'back',
  silent: 'silent',
  noisy: 'noisy',
  flooding: 'sending too much',
  detached: 'taken off',
} as const;

const checkWords = (measured: number, looked: number): string => {
  if (measured === 0) return looked === 0 ? 'plates only' : 'looked at, nothing measured';
  return `${measured} ${measured === 1 ? 'station' : 'stations'} measured`;
};

/** "; plate of 5 black dirty (fill-in, leading edge)": plates that were not clean, with what the flaw was. */
const uncleanWords = (check: Check, label: (id: string) => string): string =>
  check.readings
    .filter((r) => r.plate === 'building' || r.plate === 'dirty')
    .map((r) => {
      const flaw = flawList(flawOf(r));
      return `; plate of ${label(r.station)} ${r.plate}${flaw === '' ? '' : ` (${flaw})`}`;
    })
    .join('');
