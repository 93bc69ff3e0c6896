import type { Axis } from '../../core/axis.js';
import type { RecordBody } from '../../core/record.js';
import type { Result } from '../../core/result.js';
import type { BoardView } from '../../core/views/board-view.js';
import type { SignSheet } from '../../core/views/sign-sheet.js';
import type { ActName, Form } from '../form.js';

export type { ActName } from '../form.js';

/** What an act may look at: never the log, only what is showing. */
export type ActContext = {
  readonly view: BoardView;
  readonly operator: string;
  readonly selected: { readonly station: string; readonly axis: Axis };
  readonly nowMs: number;
  /** What both sides go through at a shift change; null = it cannot be told now. Absent: the board has no handover behind it. */
  readonly signSheet?: () => SignSheet | null;
};

/** What Enter does: facts for the log, and what else follows. */
export type Outcome = {
  readonly records: readonly RecordBody[];
  /** Shown when they are on disk. */
  readonly said: string;
  readonly operator?: string;
  readonly next?: 'quit' | 'grid' | 'next-move';
  /** The sample that was thrown away: nothing half-keyed of it is kept. */
  readonly thrown?: string;
  /** The pulled sample whose grid is opened. */
  readonly check?: string;
};

/** One act: how it opens, the sentence that is confirmed, and the records it makes. A refusal says why it cannot be done now. */
export type Act = {
  readonly name: ActName;
  readonly title: string;
  readonly open: (context: ActContext) => Result<Form>;
  /** Fields that depend on other answers. */
  readonly revise?: (form: Form, context: ActContext) => Form;
  /** "You RETARDED 4 grey 2 divisions at 21 460 m?": what Enter confirms. */
  readonly sentence: (form: Form, context: ActContext) => string;
  readonly caution?: (form: Form, context: ActContext) => string;
  readonly outcome: (form: Form, context: ActContext) => Result<Outcome>;
};
