import type { Flaw } from '../../core/plates/flaw.js';
import type { CheckId } from '../../core/record.js';
import type { BoardView } from '../../core/views/board-view.js';
import { cellOrder, type Place } from './cells.js';

/** What has been keyed of one station, as typed. */
export type DraftRow = {
  readonly along: string;
  readonly across: string;
  readonly plate: string;
  readonly look: 'in' | 'off' | null;
  /** What the flaw on a plate that is not clean looks like. */
  readonly flaw?: Flaw;
};

/** Margins between print and cut, as typed: front, back, operator side, gear side. */
export type Margins = {
  readonly station: string;
  readonly texts: readonly [string, string, string, string];
  readonly at: 0 | 1 | 2 | 3;
};

/** A half-keyed check. It belongs to its pull and is kept until it is saved; plain data, so it survives a power cut. */
export type Draft = {
  readonly check: CheckId;
  readonly web_m: number;
  readonly roll: string | null;
  readonly pulled_at: string;
  /** It reads another label of this sample, which was read before: it lies where that one was pulled. Absent = a sample of its own. */
  readonly label_of?: CheckId;
  readonly rows: Readonly<Record<string, DraftRow>>;
  readonly at: Place;
  /** Stations that are read at both edges of the web. */
  readonly edges?: readonly string[];
  /** Readings that were asked about and kept: "4/along=40A". */
  readonly asked: readonly string[];
  /** Readings that are doubted, with the words of the doubt; they stay as keyed and are gone through once at the end. */
  readonly doubted?: Readonly<Record<string, string>>;
  /** Doubted readings are being gone through: from one Enter leads to the next, not to the next field. */
  readonly reviewing?: boolean;
  readonly message: string | null;
  /** Nothing is keyed, and it was asked whether the sample is thrown away: Enter again is yes, any other key takes the question away. */
  readonly throwing?: true;
  /** The field was just come to: what is keyed next stands in place of what is in it, and rubbing out empties it. */
  readonly anew?: boolean;
  readonly note: string;
  readonly writing: boolean;
  readonly margins: Margins | null;
};

export type PulledView = BoardView['pulled'][number];

/** An empty draft for a pulled sample, with the cursor in the first field of a station that is asked for, else in the first of all. */
export const newDraft = (pulled: Pick<PulledView, 'check' | 'web_m' | 'roll' | 'at'>, view: BoardView): Draft => ({
  check: pulled.check,
  web_m: pulled.web_m,
  roll: pulled.roll,
  pulled_at: pulled.at,
  rows: {},
  at: cellOrder(view)[0] ?? 'save',
  asked: [],
  message: null,
  note: '',
  writing: false,
  margins: null,
});

/** The cell of the first station that is to be read on a second label. */
export const firstAsked = (view: BoardView): Place => {
  const cells = cellOrder(view);
  return cells.find((one) => view.instruction.read_again.includes(one.station)) ?? cells[0] ?? 'save';
};

export const EMPTY_ROW: DraftRow = { along: '', across: '', plate: '', look: null };

export const rowOf = (draft: Draft, station: string): DraftRow => draft.rows[station] ?? EMPTY_ROW;

export const withRow = (draft: Draft, station: string, change: Partial<DraftRow>): Draft => ({
  ...draft,
  message: null,
  anew: false,
  rows: { ...draft.rows, [station]: { ...rowOf(draft, station), ...change } },
});

/** A reading as it stands in a field: "4/along=40A". */
export const markOf = (draft: Draft, station: string, cell: 'along' | 'across' | 'plate'): string =>
  `${station}/${cell}=${rowOf(draft, station)[cell]}`;

/** Whether the reading in a field is doubted, as it stands there now. */
export const isDoubted = (draft: Draft, station: string, cell: 'along' | 'across' | 'plate'): boolean =>
  draft.doubted?.[markOf(draft, station, cell)] !== undefined;

/** Whether anything has been keyed into it. */
export const isEmptyDraft = (draft: Draft): boolean =>
  draft.note === '' &&
  Object.values(draft.rows).every(
    (row) => row.along === '' && row.across === '' && row.plate === '' && row.look === null,
  );
