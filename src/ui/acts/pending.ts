import { fail, ok } from '../../core/result.js';
import { atCounter } from '../../core/views/at-counter.js';
import { choiceLabel, listField, textOf } from '../form.js';
import type { Act } from './act.js';

/** Several samples are waiting: which one is keyed now. The oldest is offered first. */
export const pending: Act = {
  name: 'pending',
  title: 'which sample',
  open: (context) => {
    const { view } = context;
    const choices = view.pulled.map((one) => ({
      value: String(one.check),
      label: `${one.check}${one.roll === null ? '' : ` off roll ${one.roll}`}, pulled at ${atCounter(one.web_m, view)}`,
    }));
    const first = choices[0];
    return first === undefined
      ? fail('No sample is waiting.')
      : ok({
          act: 'pending',
          at: 0,
          message: null,
          carried: {},
          fields: [listField('check', 'sample', choices, first.value)],
        });
  },
  sentence: (form) => `Key the readings of sample ${choiceLabel(form, 'check')}?`,
  outcome: (form) => ok({ records: [], said: '', next: 'grid', check: textOf(form, 'check') }),
};
