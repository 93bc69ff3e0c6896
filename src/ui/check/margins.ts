import type { Axis } from '../../core/axis.js';
import { fromMargins, parseMargin } from '../../core/reading.js';
import { fail, ok, type Result } from '../../core/result.js';
import { type RegisterUnit, registerFromMm } from '../../core/units.js';
import type { BoardView } from '../../core/views/board-view.js';
import type { Keystroke } from '../keystroke.js';
import { walk } from './cells.js';
import { type Draft, type Margins, withRow } from './draft.js';

export const MARGIN_NAMES = ['front (leading edge)', 'back', 'operator side', 'gear side'] as const;

/** The die asked by what is seen: the margins between print and cut. */
export const openMargins = (draft: Draft, station: string): Draft => ({
  ...draft,
  message: null,
  margins: { station, texts: ['', '', '', ''], at: 0 },
});

/** One key while the margins are keyed; Enter on the last one puts the register into the die's fields. */
export function stepMargins(draft: Draft, margins: Margins, key: Keystroke, view: BoardView): Draft {
  const put = (change: Partial<Margins>, message: string | null = null): Draft => ({
    ...draft,
    message,
    margins: { ...margins, ...change },
  });
  if ('char' in key)
    return /[0-9.,/]/.test(key.char)
      ? put({ texts: withText(margins, (margins.texts[margins.at] + key.char).slice(0, 10)) })
      : put({}, 'A margin has no side: key how wide it is, in digits.');
  if (key.name === 'esc' || key.name === 'ctrl-c') return { ...draft, message: null, margins: null };
  if (key.name === 'backspace')
    return margins.texts[margins.at] === ''
      ? put({ at: step(margins.at, -1) })
      : put({ texts: withText(margins, margins.texts[margins.at].slice(0, -1)) });
  if (key.name === 'up' || key.name === 'back-tab' || key.name === 'left') return put({ at: step(margins.at, -1) });
  if (key.name === 'down' || key.name === 'right' || (key.name === 'tab' && margins.at < 3))
    return put({ at: step(margins.at, 1) });
  if (key.name !== 'enter' && key.name !== 'tab') return draft;
  const keyed = parseMargin(margins.texts[margins.at], view.units.register);
  if (!keyed.ok) return put({}, keyed.problem.message);
  if (margins.at < 3) return put({ at: step(margins.at, 1) });
  const along = half(margins, 'along', view.units.register);
  if (!along.ok) return put({ at: 0 }, along.problem.message);
  const across = half(margins, 'across', view.units.register);
  if (!across.ok) return put({ at: 2 }, across.problem.message);
  const filled = withRow(draft, margins.station, {
    ...(along.value === null ? {} : { along: along.value }),
    ...(across.value === null ? {} : { across: across.value }),
  });
  return { ...filled, margins: null, at: walk(view, { station: margins.station, cell: 'across' }, 1) };
}

/** The text a register field takes for two margins: "0.2A". null = both blank. */
function half(margins: Margins, axis: Axis, unit: RegisterUnit): Result<string | null> {
  const [first, second] =
    axis === 'along' ? [margins.texts[0], margins.texts[1]] : [margins.texts[2], margins.texts[3]];
  const one = parseMargin(first, unit);
  const two = parseMargin(second, unit);
  if (!one.ok) return one;
  if (!two.ok) return two;
  if (one.value.mm === null && two.value.mm === null) return ok(null);
  if (one.value.mm === null || two.value.mm === null)
    return fail(
      axis === 'along'
        ? 'Key both margins, front and back, or neither.'
        : 'Key both margins, operator side and gear side, or neither.',
    );
  const mm = fromMargins(one.value.mm, two.value.mm);
  if (mm === 0) return ok('0');
  const side = axis === 'along' ? (mm > 0 ? 'A' : 'B') : mm > 0 ? 'O' : 'G';
  return ok(`${Math.abs(registerFromMm(mm, unit)).toFixed(4)}${side}`);
}

const step = (at: Margins['at'], by: 1 | -1): Margins['at'] => Math.max(0, Math.min(3, at + by)) as Margins['at'];

const withText = (margins: Margins, text: string): Margins['texts'] => {
  const [a, b, c, d] = margins.texts;
  return margins.at === 0
    ? [text, b, c, d]
    : margins.at === 1
      ? [a, text, c, d]
      : margins.at === 2
        ? [a, b, text, d]
        : [a, b, c, text];
};
