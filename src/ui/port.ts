import type { Axis } from '../core/axis.js';
import type { CheckId, LogRecord, RecordBody } from '../core/record.js';
import type { Result } from '../core/result.js';
import type { BoardView } from '../core/views/board-view.js';
import type { ChartView } from '../core/views/chart-view.js';
import type { SignSheet } from '../core/views/sign-sheet.js';

/** What the rim hands the board: views to draw, and a way to put facts on disk. The board never sees the log itself. */
export type BoardPort = {
  /** The latest view; the same object until something changed. */
  view(): BoardView;
  /** Calls back after changes, at most ten times a second; returns the way to stop. */
  subscribe(changed: () => void): () => void;
  chart(station: string, axis: Axis, window: { readonly from_m: number; readonly to_m: number } | null): ChartView;
  /** Resolves once the record is on disk and judged, or with what is wrong; nothing was written then. */
  submit(body: RecordBody): Promise<Result<LogRecord>>;
  /** Asked once when a keyed reading lies far from what is expected: the words to ask with, or null. */
  doubt(station: string, axis: Axis, mm: number, check?: CheckId): string | null;
  /** The handover as plain text, for paging on the board. */
  handover(): string;
  /** What both sides of a shift change go through; null = it cannot be told now. */
  readonly signSheet?: () => SignSheet | null;
  /** Set when another holdreg holds the run: who, in words. Then submit refuses. It may change: whoever holds it may end. */
  readonly readOnly: string | null;
  /** From looking on to keying, when whoever held the run has ended; absent or null = it cannot be now. */
  readonly takeOver?: () => (() => Promise<Result<null>>) | null;
  /** Operator's name for records; may be changed at shift change. */
  operator(): string;
  setOperator(name: string): void;
  /** Milliseconds since the epoch; the only clock the board has. */
  now(): number;
  /** Leaves the program; 0 unless said. */
  quit(code?: number): void;
  /** Half-keyed checks, kept beside the log so that a power cut loses none; one text, replaced whole. Absent: they live as long as the board. */
  readonly drafts?: Drafts | undefined;
};

export type Drafts = {
  load(): string | null;
  save(text: string): void;
  /** Puts them out of the way under another name, which it answers with. */
  setAside?(): string | null;
};
