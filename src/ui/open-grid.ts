import type { LogRecord } from '../core/record.js';
import { newDraft } from './check/draft.js';
import { asAsked } from './check/second-label.js';
import type { Screen, ScreenContext } from './looking.js';

/** The check grid of a sample that waits; a half-keyed draft comes back as it was left. */
export function openGrid(screen: Screen, check: string, context: ScreenContext): Screen {
  const waiting = context.view.pulled.find((one) => String(one.check) === check);
  const draft =
    screen.drafts[check] ??
    (waiting === undefined ? undefined : asAsked(newDraft(waiting, context.view), context.view, false));
  if (draft === undefined)
    return { ...screen, message: { text: `Sample ${check} is not waiting any more.`, tone: 'trouble' } };
  return { ...screen, message: null, mode: { kind: 'grid', check }, drafts: { ...screen.drafts, [check]: draft } };
}

/** The grid of the sample whose pull was just put on record. */
export function openPulled(screen: Screen, saved: readonly LogRecord[], context: ScreenContext): Screen {
  const record = saved.find((one) => one.type === 'pull');
  if (record === undefined || record.type !== 'pull') return screen;
  const check = String(record.check);
  const draft =
    screen.drafts[check] ??
    asAsked(
      newDraft({ check: record.check, web_m: record.web_m, roll: record.roll, at: record.at }, context.view),
      context.view,
      true,
    );
  return { ...screen, message: null, mode: { kind: 'grid', check }, drafts: { ...screen.drafts, [check]: draft } };
}
