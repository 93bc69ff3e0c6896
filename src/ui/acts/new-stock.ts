import { ok } from '../../core/result.js';
import { numberField, textOf } from '../form.js';
import type { Act } from './act.js';
import { counterField, counterWords, readCounter, readLength } from './counter-field.js';

/** A new stock roll was spliced in at the unwind. */
export const newStock: Act = {
  name: 'new-stock',
  title: 'new stock',
  open: (context) =>
    ok({
      act: 'new-stock',
      at: 0,
      message: null,
      carried: {},
      fields: [
        numberField('length', `length of the new roll, ${context.view.units.length} (blank: not known)`),
        counterField(context, 'counter', 'spliced in at counter'),
      ],
    }),
  sentence: (form, context) =>
    `NEW STOCK${textOf(form, 'length') === '' ? '' : ` of ${counterWords(form, context, 'length')}`} spliced in at ${counterWords(form, context)}?`,
  outcome: (form, context) => {
    const web_m = readCounter(form, context);
    if (!web_m.ok) return web_m;
    const text = textOf(form, 'length');
    const length = text === '' ? ok(null) : readLength(text, context);
    if (!length.ok) return length;
    return ok({
      records: [{ type: 'roll', web_m: web_m.value, length_m: length.value }],
      said: 'New stock noted. Watch register until it has settled.',
    });
  },
};
