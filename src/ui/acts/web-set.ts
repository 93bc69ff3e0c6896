import type { WebSet } from '../../core/record.js';
import { ok } from '../../core/result.js';
import { choiceField, choiceLabel, textField, textOf } from '../form.js';
import type { Act } from './act.js';
import { counterField, counterWords, readCounter } from './counter-field.js';

/** Tension, dryer, stock or web guide was changed: where the web went off, that is looked to before any knob. */
export const webSet: Act = {
  name: 'web-set',
  title: 'tension, dryer or stock changed',
  open: (context) =>
    ok({
      act: 'web-set',
      at: 0,
      message: null,
      carried: {},
      fields: [
        choiceField('what', 'what was changed', CHOICES, 'tension'),
        textField('looked_to', 'what was done (may be blank)'),
        counterField(context),
      ],
    }),
  sentence: (form, context) =>
    `${choiceLabel(form, 'what').toUpperCase()} was changed at ${counterWords(form, context)}?`,
  outcome: (form, context) => {
    const web_m = readCounter(form, context);
    if (!web_m.ok) return web_m;
    const what = WHAT.find((one) => one === textOf(form, 'what')) ?? 'tension';
    const looked_to = textOf(form, 'looked_to');
    return ok({
      records: [{ type: 'web-set', web_m: web_m.value, what, ...(looked_to === '' ? {} : { looked_to }) }],
      said: `${choiceLabel(form, 'what')} noted. Register settles first: pull a sample when it has.`,
    });
  },
};

const WHAT: readonly WebSet['what'][] = ['tension', 'dryer', 'stock', 'web guide'];
const CHOICES = WHAT.map((value) => ({ value, label: value }));
