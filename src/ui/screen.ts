import type { Keystroke } from './keystroke.js';
import type { Screen, ScreenContext, ScreenStep } from './looking.js';
import { only } from './only.js';
import { stepBoard } from './step-board.js';
import { stepInForm } from './step-in-form.js';
import { stepInGrid } from './step-in-grid.js';
import { stepPage } from './step-page.js';

export type { After, Effect, Mode, PageName, Screen, ScreenContext, ScreenStep } from './looking.js';

export const FAR_AFTER_MS = 60_000;

export const initialScreen = (nowMs: number, muted: boolean, drafts: Screen['drafts'] = {}): Screen => ({
  selected: { station: null, axis: 'along' },
  window: null,
  by: 'web',
  mode: { kind: 'board' },
  drafts,
  message: null,
  lastKeyMs: nowMs,
  muted,
});

/** One key, wherever the operator is looking. */
export function stepScreen(before: Screen, key: Keystroke, context: ScreenContext): ScreenStep {
  const screen: Screen = { ...before, lastKeyMs: context.nowMs };
  switch (screen.mode.kind) {
    case 'grid':
      return stepInGrid(screen, screen.mode.check, key, context);
    case 'form':
      return stepInForm(screen, screen.mode.form, key, context);
    case 'page':
      return only(stepPage(screen, screen.mode, key, context));
    case 'far':
      return stepBoard({ ...screen, mode: { kind: 'board' } }, key, context, true);
    default:
      return stepBoard(screen, key, context, false);
  }
}

/** Time alone: after a minute without a key the board is made readable from across the aisle. */
export function tickScreen(screen: Screen, nowMs: number): Screen {
  const idle = screen.mode.kind === 'board' && nowMs - screen.lastKeyMs >= FAR_AFTER_MS;
  return idle ? { ...screen, mode: { kind: 'far', byItself: true } } : screen;
}
