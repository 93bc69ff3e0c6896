import type { CorrectionFinding } from '../finding.js';
import type { LogRecord } from '../record.js';
import type { Movement, RunState, Turned } from '../run/state.js';
import { stationsOf } from '../run/stations.js';
import { actWords, turnedWords } from './act-words.js';
import type { EventView } from './board-view.js';
import { eventNames } from './event-names.js';
import {
  type EventNames,
  eventSentence,
  eventShort,
  type FoundBy,
  howSure,
  listWords,
  sideWords,
  type WordedEvent,
} from './event-words.js';
import { wasMisread } from './misread.js';
import { sizeWords } from './number-words.js';
import { patternWords } from './pattern-words.js';
import { GAVE, turnGave } from './took-words.js';

const RANK = { out: 0, act: 1, note: 2 } as const;

/** Movements as board and handover show them: open ones first (out, act, note), then closed ones, newest first. */
export const eventViews = (state: RunState): readonly EventView[] => {
  const names = eventNames(state);
  const ids = new Map(state.said.events.map((e) => [e.key, e.id]));
  return state.judged.movements
    .map((m) => eventView(state, m, ids.get(m.key) ?? m.key, names))
    .sort(
      (a, b) => Number(b.open) - Number(a.open) || (a.open ? RANK[a.severity] - RANK[b.severity] : 0) || b.id - a.id,
    );
};

const eventView = (state: RunState, m: Movement, id: number, names: EventNames): EventView => {
  const open = m.closed === null;
  const how_closed = m.closed?.how ?? null;
  // What is dated anew to after it was found began where it was found at the latest.
  const since = m.since.web_m > m.opened.web_m ? { check: m.opened.check, web_m: m.opened.web_m } : m.since;
  const { pair, ...said } = { ...m, since };
  const turns = turnsOf(state, m);
  const found_by = foundBy(m);
  const turned = [...new Set(turns.map((t) => names.labels[t.station] ?? t.station))];
  const set = setFor(state, m);
  const misread =
    m.closed?.how === 'recovered' && wasMisread(state.judged, m.axis, [m.opened.web_m], m.closed.web_m)
      ? { misread: m.closed.check }
      : {};
  const worded: WordedEvent = {
    ...said,
    ...(pair === null ? {} : { pair }),
    roll: rollAt(state, since.web_m),
    open,
    how_closed,
    found_by,
    ...(turned.length === 0 ? {} : { turned: listWords(turned) }),
    ...(set.length === 0 ? {} : { set: listWords([...new Set(set.map(({ what }) => what))]) }),
    ...misread,
  };
  return {
    id,
    axis: m.axis,
    cause: m.cause,
    severity: m.severity,
    shape: m.shape,
    confidence: m.confidence,
    how_sure: howSure(m.confidence),
    since,
    moved_mm: m.moved_mm,
    open,
    how_closed,
    ...misread,
    seen: m.seen,
    sentence: [eventSentence(worded, names), patternWords(m.pattern)].filter((words) => words !== '').join(' '),
    short: eventShort(worded, names),
    shifts_mm: shiftsOf(state, m),
    out_before_next_check: m.out_before_next_check,
    reach: m.reach_limit,
    done: [...turns.map((t) => doneWords(t, names)), ...set.map((record) => actWords(record, names))],
    found_by,
    ...(turned.length === 0 ? {} : { turned }),
  };
};

/** The watch called it a movement; else one reading outside opened it, or where a station stands by all readings. */
const foundBy = (m: Movement): FoundBy =>
  m.watched.length > 0 ? 'movement' : m.from_reading === true ? 'reading' : 'standing';

/** Turns made for it, and those made while it lasted on a knob that bears on it, whether or not they were booked to it. */
const turnsOf = ({ judged }: RunState, m: Movement): readonly Turned[] =>
  judged.turns.filter((t) => {
    if (t.event === m.key) return true;
    // The reference bears on every station, and every station on what the reference is said to have done, whatever it was turned for.
    if (t.axis !== m.axis || (t.event !== null && t.station !== judged.reference)) return false;
    const bears =
      m.cause.kind === 'station'
        ? t.station === m.cause.station || t.station === judged.reference
        : m.cause.kind === 'reference'
          ? true
          : m.cause.kind === 'several'
            ? m.cause.stations.includes(t.station) || t.station === judged.reference
            : true;
    return (
      (bears || m.pair?.includes(t.station) === true) &&
      t.web_m > m.since.web_m &&
      t.web_m <= (m.closed?.web_m ?? Infinity)
    );
  });

/** What was set on the web itself while the whole of it was off: tension, dryer, stock, web guide. */
const setFor = ({ acts }: RunState, m: Movement): readonly (LogRecord & { readonly type: 'web-set' })[] =>
  m.cause.kind !== 'web'
    ? []
    : acts.flatMap(({ record, withdrawn }) =>
        !withdrawn &&
        record.type === 'web-set' &&
        record.web_m >= m.since.web_m &&
        record.web_m <= (m.closed?.web_m ?? Infinity)
          ? [record]
          : [],
      );

/** The finished roll that was running at a web position, as far as the marks kept can say. */
export const rollAt = (state: RunState, web_m: number): string | null => {
  const off = state.judged.marks.find((mark) => mark.kind === 'finished' && mark.web_m >= web_m);
  if (off?.kind === 'finished') return off.roll;
  return state.judged.trail.find((t) => t.web_m >= web_m && t.roll !== null)?.roll ?? null;
};

/** How a movement lies in station space: what it adds to each station's reading, mm. */
const shiftsOf = (state: RunState, m: Movement): EventView['shifts_mm'] => {
  const stations = stationsOf(state.press, state.job);
  const reference_m = stations.find((s) => s.id === state.judged.reference)?.at_m ?? 0;
  const { cause } = m;
  return stations.flatMap((s) => {
    if (s.id === state.judged.reference) return cause.kind === 'reference' ? [{ station: s.id, mm: m.moved_mm }] : [];
    if (cause.kind === 'station') return s.id === cause.station ? [{ station: s.id, mm: m.moved_mm }] : [];
    if (cause.kind === 'several')
      return cause.stations.includes(s.id)
        ? [{ station: s.id, mm: state.judged.read[s.id]?.[m.axis].mm ?? m.moved_mm }]
        : [];
    if (s.read !== 'measure') return [];
    return [{ station: s.id, mm: cause.kind === 'reference' ? -m.moved_mm : m.moved_mm * (s.at_m - reference_m) }];
  });
};

const turnedSize = ({ axis, got_mm }: CorrectionFinding, names: EventNames): string =>
  `${sizeWords(got_mm, names.register)} ${sideWords(axis, got_mm)}`;

const doneWords = (turn: Turned, names: EventNames): string => {
  const made = turnedWords(turn, names);
  if (turn.result === null) return `${made}; no sample printed after it read yet`;
  return `${made}; the print moved ${turnedSize(turn.result, names)}: ${GAVE[turnGave(turn.result, turn.got_sd_mm)]}`;
};
