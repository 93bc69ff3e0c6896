import { fail, ok } from '../../core/result.js';
import { textField, textOf } from '../form.js';
import type { Act } from './act.js';
import { counterField, counterWords, readCounter } from './counter-field.js';

/** A finished roll came off the rewind. */
export const rollOff: Act = {
  name: 'roll-off',
  title: 'roll off',
  open: (context) =>
    ok({
      act: 'roll-off',
      at: 0,
      message: null,
      carried: {},
      fields: [textField('roll', 'finished roll', context.view.finished_roll.running ?? ''), counterField(context)],
    }),
  sentence: (form, context) =>
    `Finished roll ${textOf(form, 'roll') || '?'} came OFF at ${counterWords(form, context)}?`,
  outcome: (form, context) => {
    const roll = textOf(form, 'roll');
    if (roll === '') return fail('Key the number of the finished roll that came off.');
    const web_m = readCounter(form, context);
    if (!web_m.ok) return web_m;
    return ok({
      records: [{ type: 'finished', web_m: web_m.value, roll }],
      said: `Roll ${roll} is off. Pull a sample from it: p, then c.`,
    });
  },
};
