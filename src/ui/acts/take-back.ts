import { fail, ok } from '../../core/result.js';
import { choiceLabel, listField, textOf } from '../form.js';
import type { Act } from './act.js';

/** A mistaken entry is taken back by a record; the log keeps both. */
export const takeBack: Act = {
  name: 'take-back',
  title: 'take back',
  open: (context) => {
    const acts = [...context.view.acts].reverse().filter((one) => !one.withdrawn);
    const first = acts[0];
    if (first === undefined) return fail('There is nothing to take back.');
    return ok({
      act: 'take-back',
      at: 0,
      message: null,
      carried: {},
      fields: [
        listField(
          'entry',
          'which entry',
          acts.map((one) => ({ value: String(one.seq), label: one.words })),
          String(first.seq),
        ),
      ],
    });
  },
  sentence: (form) =>
    `TAKE BACK "${choiceLabel(form, 'entry')}"? It is judged as if it had not been; the log keeps both.`,
  outcome: (form, context) =>
    ok({
      records: [
        { type: 'withdraw', check: null, entry: Number(textOf(form, 'entry')), web_m: context.view.position.web_m },
      ],
      said: 'Taken back. Key it again if it was only mis-keyed.',
    }),
};
