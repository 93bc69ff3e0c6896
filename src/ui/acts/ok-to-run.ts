import type { CheckId } from '../../core/record.js';
import { fail, ok } from '../../core/result.js';
import type { BoardView } from '../../core/views/board-view.js';
import { choiceField, textField, textOf } from '../form.js';
import type { Act } from './act.js';
import { counterField, counterWords, readCounter } from './counter-field.js';
import { readSpeed, speedField } from './speed-field.js';

/** OK to run: on a full check, with the counter, who passed it, and what the run is held to. */
export const okToRun: Act = {
  name: 'ok-to-run',
  title: 'OK to run',
  open: (context) => {
    if (!context.view.ok_to_run.possible) return fail(`No OK to run yet. ${context.view.ok_to_run.why}`);
    return ok({
      act: 'ok-to-run',
      at: 1,
      message: null,
      carried: {},
      fields: [
        counterField(context),
        textField('passed_by', 'passed by'),
        choiceField(
          'hold_to',
          'hold to',
          [
            { value: 'aim', label: 'dead register' },
            { value: 'sample', label: 'the sample that was passed' },
          ],
          'aim',
        ),
        speedField(context, 'not known'),
      ],
    });
  },
  sentence: (form, context) =>
    `OK TO RUN at ${counterWords(form, context)}, passed by ${textOf(form, 'passed_by') || '?'}, held to ${textOf(form, 'hold_to') === 'aim' ? 'dead register' : 'the sample that was passed'}?`,
  outcome: (form, context) => {
    const web_m = readCounter(form, context);
    if (!web_m.ok) return web_m;
    const passed_by = textOf(form, 'passed_by');
    if (passed_by === '') return fail('Key who passed it: name or initials.');
    const speed = readSpeed(form, context);
    if (!speed.ok) return speed;
    const first = context.view.phase === 'make-ready';
    return ok({
      records: [
        {
          type: 'ok',
          web_m: web_m.value,
          zero_m: first ? web_m.value : null,
          passed_by,
          check: lastCheck(context.view),
          hold_to: textOf(form, 'hold_to') === 'sample' ? 'sample' : 'aim',
        },
        ...(speed.value === null || speed.value === 0
          ? []
          : [{ type: 'speed' as const, web_m: first ? 0 : web_m.value, m_per_min: speed.value }]),
      ],
      said: 'OK to run is given. From here it is watched.',
    });
  },
};

/** The check the press was passed on: the latest that any station was read at. */
function lastCheck(view: BoardView): CheckId | null {
  const checks = view.stations
    .flatMap((one) => [one.axes.along.last_check, one.axes.across.last_check])
    .filter((one): one is CheckId => one !== null);
  const numbers = checks.filter((one): one is number => typeof one === 'number');
  return numbers.length > 0 ? Math.max(...numbers) : (checks[checks.length - 1] ?? null);
}
