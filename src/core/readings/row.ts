import type { CheckId, PlateGrade } from '../record.js';

/** The columns of the readings CSV, in the order they are written; the first nine must be there. */
export const COLUMNS = [
  'run',
  'check',
  'time',
  'web_m',
  'roll',
  'kind',
  'station',
  'along_mm',
  'across_mm',
  'plate',
  'flaws',
  'labels',
  'look',
  'edge',
  'value',
  'by',
  'note',
] as const;

export type Column = (typeof COLUMNS)[number];

export const REQUIRED_COLUMNS: readonly Column[] = COLUMNS.slice(0, 9);

/** What a row of the readings CSV may tell. */
export const KINDS = [
  'ok',
  'reading',
  'correction',
  'roll',
  'finished',
  'wash',
  'speed',
  'stop',
  'start',
  'plate',
  'die',
  'reference',
  'tolerance',
  'seen',
  'withdraw',
  'counter',
  'end',
  'note',
] as const;

export type Kind = (typeof KINDS)[number];

/** One row as it stands in the file, cell by cell; null = blank. What it means together with its neighbours is decided later. */
export type Row = {
  /** Line of the file on which the row begins. */
  readonly line: number;
  readonly run: string | null;
  readonly check: CheckId | null;
  /** ISO 8601 UTC. */
  readonly time: string | null;
  readonly web_m: number | null;
  readonly roll: string | null;
  readonly kind: Kind;
  readonly station: string | null;
  readonly along_mm: number | null;
  readonly across_mm: number | null;
  readonly plate: PlateGrade | null;
  readonly flaws: number | null;
  readonly labels: number | null;
  readonly look: 'in' | 'off' | null;
  readonly edge: 'operator' | 'gear' | null;
  /** A number, or the text of a withdrawn check or of what is held to. */
  readonly value: number | string | null;
  readonly by: string | null;
  readonly note: string | null;
};
