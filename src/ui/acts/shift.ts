import { fail, ok } from '../../core/result.js';
import { textField, textOf } from '../form.js';
import type { Act } from './act.js';
import { counterField, readCounter } from './counter-field.js';

/** Shift change: who hands over to whom. */
export const shift: Act = {
  name: 'shift',
  title: 'shift change',
  open: (context) =>
    ok({
      act: 'shift',
      at: 1,
      message: null,
      carried: {},
      fields: [
        textField('outgoing', 'handing over', context.operator),
        textField('incoming', 'taking over'),
        textField('note', 'to pass on (blank: nothing)'),
        counterField(context),
      ],
    }),
  sentence: (form) => `${textOf(form, 'outgoing') || '?'} hands over to ${textOf(form, 'incoming') || '?'}?`,
  caution: () => 'Read the handover (h) through together, and measure one station again.',
  outcome: (form, context) => {
    const outgoing = textOf(form, 'outgoing');
    const incoming = textOf(form, 'incoming');
    if (outgoing === '') return fail('Key who hands over.');
    if (incoming === '') return fail('Key who takes over.');
    const web_m = readCounter(form, context);
    if (!web_m.ok) return web_m;
    const words = textOf(form, 'note');
    return ok({
      records: [{ type: 'shift', web_m: web_m.value, outgoing, incoming, note: words === '' ? null : words }],
      said: `${incoming} has the run. A full check is due once a shift.`,
      operator: incoming,
    });
  },
};
