import type { LogRecord } from '../core/record.js';
import { nextMove } from './acts/knob.js';
import { pullWords } from './acts/pull.js';
import { only, say } from './only.js';
import { openGrid, openPulled } from './open-grid.js';
import type { After, Mode, Screen, ScreenContext, ScreenStep } from './screen.js';
import { actContext } from './selected-station.js';

/** What became of a submit: done, or the trouble it ran into. On trouble everything typed stays. */
export function settleScreen(
  screen: Screen,
  after: After,
  trouble: string | null,
  saved: readonly LogRecord[],
  context: ScreenContext,
): ScreenStep {
  if (trouble !== null) {
    const draft = screen.mode.kind === 'grid' ? screen.drafts[screen.mode.check] : undefined;
    if (draft !== undefined)
      return only({
        ...screen,
        drafts: { ...screen.drafts, [String(draft.check)]: { ...draft, message: `NOT SAVED: ${trouble}` } },
      });
    const mode: Mode =
      screen.mode.kind === 'form'
        ? { kind: 'form', form: { ...screen.mode.form, message: `NOT SAVED: ${trouble}` } }
        : screen.mode;
    return only({ ...screen, mode, message: { text: `NOT SAVED: ${trouble}`, tone: 'trouble' } });
  }
  if (after.kind === 'say') return only(say(screen, after.said));
  if (after.kind === 'check')
    return only({
      ...say({ ...screen, mode: { kind: 'board' } }, `${after.said}${disprovedWords(after.check, context)}`),
      drafts: without(screen.drafts, after.check),
    });
  if (after.kind === 'stamp')
    return only(after.grid ? openPulled(screen, saved, context) : say(screen, saidOf(after.said, saved, context)));
  const { outcome, form } = after;
  if (outcome.next === 'quit') return { screen, effect: { kind: 'quit', code: 0 } };
  if (outcome.next === 'next-move')
    return only({ ...screen, mode: { kind: 'form', form: nextMove(form, actContext(screen, context)) } });
  const drafts = outcome.thrown === undefined ? screen.drafts : without(screen.drafts, outcome.thrown);
  const done = say({ ...screen, drafts, mode: { kind: 'board' } }, saidOf(outcome.said, saved, context));
  if (outcome.next !== 'grid') return only(done);
  return only(saved.length > 0 ? openPulled(done, saved, context) : openGrid(done, outcome.check ?? '', context));
}

/** What this check, of another label of a sample, did not find there: its hold goes no further. */
function disprovedWords(check: string, { view }: ScreenContext): string {
  const own = view.events.filter((one) => one.misread !== undefined && String(one.misread) === check);
  const held = own.some((one) => one.severity === 'out');
  return own.length === 0
    ? ''
    : ` What sample ${own[0]?.since.check} showed is not there: most likely misread.${held ? ' Its hold ends there; decide on what it holds.' : ''}`;
}

function without(drafts: Screen['drafts'], check: string): Screen['drafts'] {
  const { [check]: _gone, ...rest } = drafts;
  return rest;
}

/** A sample is told by the number it was written with: a sensor's check may have taken the one that was next. */
const saidOf = (said: string, saved: readonly LogRecord[], context: ScreenContext): string => {
  const record = saved.find((one) => one.type === 'pull');
  return record?.type === 'pull' ? pullWords(context.view, record) : said;
};
