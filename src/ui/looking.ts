import type { Axis } from '../core/axis.js';
import type { RecordBody } from '../core/record.js';
import type { BoardView } from '../core/views/board-view.js';
import type { SignSheet } from '../core/views/sign-sheet.js';
import type { Outcome } from './acts/act.js';
import type { ChartWindow } from './chart-window.js';
import type { Draft } from './check/draft.js';
import type { GridContext } from './check/step-grid.js';
import type { Form } from './form.js';

export type PageName = 'help' | 'handover' | 'events';

export type Mode =
  | { readonly kind: 'board' }
  | { readonly kind: 'grid'; readonly check: string }
  | { readonly kind: 'form'; readonly form: Form }
  | { readonly kind: 'page'; readonly page: PageName; readonly lines: readonly string[]; readonly top: number }
  | { readonly kind: 'far'; readonly byItself: boolean };

/** Where you are looking, and what is typed but not confirmed. Never logged. */
export type Screen = {
  readonly selected: { readonly station: string | null; readonly axis: Axis };
  readonly window: ChartWindow | null;
  readonly by: 'web' | 'roll';
  readonly mode: Mode;
  /** Half-keyed checks by check number. */
  readonly drafts: Readonly<Record<string, Draft>>;
  readonly message: { readonly text: string; readonly tone: 'say' | 'trouble' } | null;
  readonly lastKeyMs: number;
  readonly muted: boolean;
};

export type ScreenContext = {
  readonly view: BoardView;
  readonly nowMs: number;
  readonly operator: string;
  readonly readOnly: string | null;
  /** Whoever held the run has ended: the next act takes it over. */
  readonly free: boolean;
  readonly doubt: GridContext['doubt'];
  readonly signSheet?: () => SignSheet | null;
  readonly page: (page: PageName) => readonly string[];
  /** Rows a page shows at once. */
  readonly pageRows: number;
};

/** What follows once records are on disk. */
export type After =
  | { readonly kind: 'form'; readonly form: Form; readonly outcome: Outcome }
  | { readonly kind: 'stamp'; readonly said: string; readonly grid: boolean }
  | { readonly kind: 'check'; readonly check: string; readonly said: string }
  | { readonly kind: 'say'; readonly said: string };

export type Effect =
  | { readonly kind: 'submit'; readonly records: readonly RecordBody[]; readonly after: After }
  | { readonly kind: 'take-over' }
  | { readonly kind: 'quit'; readonly code: number };

export type ScreenStep = { readonly screen: Screen; readonly effect: Effect | null };
