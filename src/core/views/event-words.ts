import type { Axis } from '../axis.js';
import { capital } from '../capital.js';
import { type Places, placeWords } from '../counter.js';
import type { CorrectionFinding, EventFinding, ReachLimit } from '../finding.js';
import type { CheckId } from '../record.js';
import type { RegisterUnit } from '../units.js';
import { rateWords, sizeWords } from './number-words.js';
import { colour } from './todo.js';
import { GAVE, turnGave } from './took-words.js';

/** What the words about one movement are made from: plain values, so that board and handover say the same. */
export type WordedEvent = Pick<
  EventFinding,
  'axis' | 'cause' | 'severity' | 'shape' | 'confidence' | 'since' | 'moved_mm' | 'pair'
> & {
  /** Finished roll in which it began; null = not known. */
  readonly roll: string | null;
  readonly open: boolean;
  readonly how_closed: 'corrected' | 'recovered' | 'withdrawn' | null;
  /** Of what: a movement; one reading outside that no movement explained; where a station stood, all readings together. */
  readonly found_by?: FoundBy;
  /** It was followed no further, and by the readings since it stayed where it went. */
  readonly stayed?: boolean;
  /** What was turned meanwhile that bears on it, advised or not: "1 white"; absent = nothing. */
  readonly turned?: string;
  /** What was set on the web itself meanwhile: "tension"; absent = nothing. */
  readonly set?: string;
  /** The check that read another label of its sample and did not find it there; absent = it was not disproved so. */
  readonly misread?: CheckId;
};

export type FoundBy = 'movement' | 'reading' | 'standing';

/** What the words need to know of the job. */
export type EventNames = Places & {
  readonly register: RegisterUnit;
  /** Station as the operator says it ("4 grey", "die"), by id. */
  readonly labels: Readonly<Record<string, string>>;
  /** Ids of stations that are a die: their cut moves, not their print. */
  readonly dies: readonly string[];
  readonly reference: string;
};

export type HowSure = 'sure' | 'likely' | 'not sure: read again';

/** How far to trust the naming of a movement: 0.9 and over is sure, from 0.6 likely (own choice, no source). */
export const howSure = (confidence: number): HowSure =>
  confidence >= 0.9 ? 'sure' : confidence >= 0.6 ? 'likely' : 'not sure: read again';

/** "ahead", "behind", "toward the operator side", "toward the gear side": where a positive or negative movement lies. */
export const sideWords = (axis: Axis, mm: number): string =>
  axis === 'along' ? (mm >= 0 ? 'ahead' : 'behind') : mm >= 0 ? 'toward the operator side' : 'toward the gear side';

/** "along the web" or "side to side". */
export const axisWords = (axis: Axis): string => (axis === 'along' ? 'along the web' : 'side to side');

/** "2 plum", "2 plum and 3 leaf", "2 plum, 3 leaf and 4 grey". */
export const listWords = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1] ?? ''}`;

/**
 * One plain sentence of a movement: what moved, which way, how much, since when, how sure.
 * Open ones in the present ("4 grey is drifting ahead: 0.09 mm since roll 7 (17 550 m), likely."), closed ones in the past with how they ended.
 */
export function eventSentence(event: WordedEvent, names: EventNames): string {
  if (event.found_by === 'reading' && event.pair === undefined && event.cause.kind === 'station')
    return readingSentence(event, event.cause.station, names);
  if (event.found_by === 'standing') return standingSentence(event, names);
  const size = sizeWords(event.moved_mm, names.register);
  const tail = `${size} ${whenWords(event, names)}${event.open ? `, ${howSure(event.confidence)}` : ''}.`;
  const apart = event.pair === undefined ? '' : pairWords(event.pair, event.open, names);
  const out = event.open && event.severity === 'out' && event.pair === undefined ? ' OUT of tolerance.' : '';
  return `${capital(causeWords(event, names, tail))}${out}${apart}${event.open ? '' : ` ${closedWords(event)}`}`;
}

/** "At check 12 it was taken that 3 leaf had moved (0.06 mm ahead)": what was said at the press, where more was learned since. */
export function takenWords(
  event: Pick<WordedEvent, 'cause' | 'axis' | 'moved_mm'> & { check: string },
  names: EventNames,
): string {
  const { cause, axis, moved_mm } = event;
  const far = cause.kind === 'web' ? '' : ` (${sizeWords(moved_mm, names.register)} ${sideWords(axis, moved_mm)})`;
  const who =
    cause.kind === 'web'
      ? 'the web'
      : cause.kind === 'reference'
        ? `${labelOf(names.reference, names)} (the reference)`
        : listWords(
            [...new Set(cause.kind === 'several' ? cause.stations : [cause.station])].map((id) => subject(id, names)),
          );
  return `At check ${event.check} it was taken that ${who} had moved${far}.`;
}

/** One reading is a fact; that something moved is not said of it. */
function readingSentence(event: WordedEvent, station: string, names: EventNames): string {
  const side = `${sizeWords(event.moved_mm, names.register)} ${sideWords(event.axis, event.moved_mm)}`;
  const out = event.open ? 'OUT of tolerance. One reading says so' : 'out of tolerance, in one reading';
  return `${capital(subject(station, names))} read ${side} at ${atWords(event, names)}, ${out}.${event.open ? '' : ` ${readAgainWords(event)}`}`;
}

/** Where stations stand is an estimate of all readings; that something moved is not said of it. */
function standingSentence(event: WordedEvent, names: EventNames): string {
  const { cause, axis, moved_mm } = event;
  const now = event.open ? '' : ` ${readAgainWords(event)}`;
  if (cause.kind !== 'station')
    return `${event.open ? 'The stations stand' : 'The stations stood'} off ${axisWords(axis)} at ${atWords(event, names)}, though no movement was found: ${labelOf(names.reference, names)} (the reference) moves them all.${now}`;
  return `${capital(subject(cause.station, names))} ${event.open ? 'stands' : 'stood'} ${sizeWords(moved_mm, names.register)} ${sideWords(axis, moved_mm)} at ${atWords(event, names)}, by all readings so far; no movement was found.${now}`;
}

const atWords = ({ roll, since }: WordedEvent, names: EventNames): string => {
  const at = placeWords(since.web_m, names);
  return roll === null ? at : `roll ${roll} (${at})`;
};

/** How it ended, and what was done meanwhile that bears on it. */
type Ending = Pick<WordedEvent, 'how_closed' | 'turned' | 'set' | 'misread' | 'stayed'>;

const readAgainWords = (event: WordedEvent): string => {
  const { how_closed: how, turned, misread } = event;
  if (how === 'withdrawn' || misread !== undefined) return closedWords(event);
  return turned === undefined ? 'It read good again; nothing was turned.' : `It read good after ${turned} was turned.`;
};

/**
 * Where the limit will be crossed: "Out of tolerance at about 24 100 m, at the earliest 22 300 m." Empty when no crossing is foreseen; for
 * what is out already nothing is foreseen. Where it should have been crossed by now (`here_m`; null = not known) that is said.
 */
export function reachSentence(reach: ReachLimit | null, names: EventNames, here_m: number | null = null): string {
  if (reach === null) return '';
  const at = (m: number): string => placeWords(m, names);
  if (here_m !== null && reach.likely_m <= here_m)
    return `If it went on, it has been out of tolerance since about ${at(reach.likely_m)}.`;
  const late = reach.late_m === null ? 'perhaps never' : `at the latest ${at(reach.late_m)}`;
  return `Out of tolerance at about ${at(reach.likely_m)} if left alone; at the earliest ${at(reach.early_m)}, ${late}.`;
}

/**
 * The same movement in few words, for a line that has no room for the sentence: what, which way, how far, how sure. Nothing of it is to be
 * cut. "4 grey is drifting ahead: 0.09 mm, likely. OUT."
 */
export function eventShort(event: WordedEvent, names: EventNames): string {
  const side = sideWords(event.axis, event.moved_mm);
  const size = sizeWords(event.moved_mm, names.register);
  const name = (id: string): string => colour(labelOf(id, names));
  const { cause } = event;
  const tail = `${event.open ? `, ${howSure(event.confidence)}` : ''}.${event.open && event.severity === 'out' ? outShort(event, names) : ''}`;
  if (cause.kind === 'web') {
    const rate = rateWords(event.moved_mm, names.register);
    return `The web ${event.axis === 'along' ? 'stretched' : 'went aside'}: ${rate} ${side} a metre${tail}`;
  }
  if (cause.kind === 'several') {
    const who = cause.stations.length > 2 ? `${cause.stations.length} stations` : listWords(cause.stations.map(name));
    return `${who} ${wentWords(event, true)} ${event.axis}: up to ${size}${tail}`;
  }
  const who = cause.kind === 'reference' ? `${name(names.reference)} (reference)` : name(cause.station);
  return `${who} ${wentWords(event, false)} ${side}: ${size}${tail}`;
}

/** " OUT.", or of two colours that trap one another " OUT against 3 leaf." */
const outShort = ({ pair, cause }: WordedEvent, names: EventNames): string => {
  if (pair === undefined) return ' OUT.';
  const other = pair.find((id) => cause.kind !== 'station' || id !== cause.station) ?? pair[1];
  return ` OUT against ${colour(labelOf(other, names))}.`;
};

/** A chance as people say it: "about 1 in 5", "almost certain", "very small". */
export function chanceWords(p: number): string {
  if (p >= 0.95) return 'almost certain';
  if (p >= 0.6) return `likely, about ${Math.round(p * 10)} in 10`;
  if (p >= 0.4) return 'as likely as not';
  if (p >= 0.05) return `about 1 in ${Math.round(1 / p)}`;
  return 'very small';
}

/** What a turn of a knob did: "Asked 0.06 mm behind, got 0.05 mm behind: it took." */
export function tookSentence(found: CorrectionFinding, names: EventNames): string {
  const part = (mm: number): string => `${sizeWords(mm, names.register)} ${sideWords(found.axis, mm)}`;
  return `Turned ${part(found.asked_mm)}, the print moved ${part(found.got_mm)}: ${GAVE[turnGave(found)]}`.replace(
    /(?<![.?])$/,
    '.',
  );
}

const labelOf = (id: string, names: EventNames): string => names.labels[id] ?? `station ${id}`;

const subject = (id: string, names: EventNames): string =>
  names.dies.includes(id) ? `the cut of the ${labelOf(id, names)}` : labelOf(id, names);

function causeWords(event: WordedEvent, names: EventNames, tail: string): string {
  const side = sideWords(event.axis, event.moved_mm);
  const { cause } = event;
  const went = wentWords(event, cause.kind === 'several');
  if (cause.kind === 'station') return `${subject(cause.station, names)} ${went} ${side}: ${tail}`;
  if (cause.kind === 'reference')
    return `${labelOf(names.reference, names)} (the reference) ${went} ${side}: ${tail} All the others read off the opposite way${event.open ? '; leave them alone' : ''}.`;
  if (cause.kind === 'several')
    return `${listWords([...new Set(cause.stations)].map((id) => subject(id, names)))} ${went} ${axisWords(event.axis)}, not all alike: up to ${tail}`;
  const web = event.axis === 'along' ? 'stretched or shifted' : 'shifted or drawn to one side';
  return `The web ${event.open ? 'has' : 'had'} ${web}: stations read off in proportion to distance, ${rateWords(event.moved_mm, names.register)} ${side} for each metre of path after the reference, ${whenWords(event, names)}${event.open ? `, ${howSure(event.confidence)}` : ''}.`;
}

function wentWords(event: WordedEvent, many: boolean): string {
  if (!event.open) return event.shape === 'ramp' ? 'drifted' : 'moved';
  if (event.shape === 'ramp') return many ? 'are drifting' : 'is drifting';
  return many ? 'have moved' : 'has moved';
}

function whenWords(event: WordedEvent, names: EventNames): string {
  const at = placeWords(event.since.web_m, names);
  return event.roll === null ? `since ${at}` : `since roll ${event.roll} (${at})`;
}

const pairWords = (pair: readonly [string, string], open: boolean, names: EventNames): string =>
  ` ${listWords(pair.map((id) => labelOf(id, names)))}, which trap one another, ${open ? 'are' : 'were'} further apart than they may be.`;

function closedWords({ how_closed: how, turned, set, misread, stayed }: Ending): string {
  if (misread !== undefined)
    return `Read again on the same sample (check ${misread}) it was inside: most likely a misreading.`;
  // Nobody may read that it came back by itself where somebody turned something.
  if (how === 'recovered' && set !== undefined) return `It came back after ${set} was changed.`;
  if (how === 'recovered' && turned !== undefined) return `It came back after ${turned} was turned.`;
  if (how === 'corrected') return 'It was corrected.';
  if (how === 'recovered' && stayed === true) return 'It was followed no further.';
  if (how === 'recovered') return 'It came back by itself.';
  if (how === 'withdrawn') return 'It was taken back: the reading behind it was withdrawn.';
  return 'It is closed.';
}
