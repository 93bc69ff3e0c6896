import { ok } from '../../core/result.js';
import type { Act } from './act.js';

/** Leaving the board; the run stays open. */
export const quit: Act = {
  name: 'quit',
  title: 'leave the board',
  open: () => ok({ act: 'quit', at: 0, message: null, carried: {}, fields: [] }),
  sentence: (_form, context) =>
    context.view.phase === 'ended'
      ? 'Leave the board?'
      : 'Leave the board? The run stays open; holdreg brings it back.',
  outcome: () => ok({ records: [], said: '', next: 'quit' }),
};
