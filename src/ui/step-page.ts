import type { Keystroke } from './keystroke.js';
import type { Mode, Screen, ScreenContext } from './looking.js';

/** A key while a page is read; any key that does not scroll goes back to the board. */
export function stepPage(
  screen: Screen,
  mode: Extract<Mode, { kind: 'page' }>,
  key: Keystroke,
  context: ScreenContext,
): Screen {
  const last = Math.max(0, mode.lines.length - context.pageRows);
  const to = (top: number): Screen => ({ ...screen, mode: { ...mode, top: Math.max(0, Math.min(last, top)) } });
  if ('char' in key) return key.char === ' ' ? to(mode.top + context.pageRows) : { ...screen, mode: { kind: 'board' } };
  switch (key.name) {
    case 'down':
      return to(mode.top + 1);
    case 'up':
      return to(mode.top - 1);
    case 'page-down':
    case 'enter':
      return mode.top >= last && key.name === 'enter'
        ? { ...screen, mode: { kind: 'board' } }
        : to(mode.top + context.pageRows);
    case 'page-up':
      return to(mode.top - context.pageRows);
    case 'home':
      return to(0);
    case 'end':
      return to(last);
    default:
      return { ...screen, mode: { kind: 'board' } };
  }
}
