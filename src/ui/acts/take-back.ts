import { fail, ok } from '../../core/result.js';
import { atCounter } from '../../core/views/at-counter.js';
import { choiceLabel, type Form, listField, textField, textOf } from '../form.js';
import type { Act } from './act.js';

/** A mistaken entry is taken back by a record; the log keeps both. */
export const takeBack: Act = {
  name: 'take-back',
  title: 'take back',
  open: (context) => {
    const acts = [...context.view.acts]
      .reverse()
      .filter((one) => !one.withdrawn && one.stays !== true)
      .map((one) => ({ value: String(one.seq), label: one.words }));
    // A sample pulled by mistake is the newest thing there is to take back, and has no entry of its own.
    const samples = [...context.view.pulled].reverse().map((one) => ({
      value: `${SAMPLE}${one.check}`,
      label: `Sample ${one.check}, pulled at ${atCounter(one.web_m, context.view)}: not read, thrown away`,
    }));
    const choices = [...samples, ...acts];
    // What was done last is offered first: an entry, unless samples are all there is.
    const first = acts[0] ?? samples[0];
    if (first === undefined) return fail('There is nothing to take back.');
    return ok({
      act: 'take-back',
      at: 0,
      message: null,
      carried: {},
      fields: [listField('entry', 'which entry', choices, first.value), textField('why', 'why (blank: not said)')],
    });
  },
  sentence: (form) =>
    `TAKE BACK "${choiceLabel(form, 'entry')}"? It is judged as if it had not been; the log keeps both.`,
  outcome: (form, context) => {
    const entry = textOf(form, 'entry');
    const sample = context.view.pulled.find((one) => `${SAMPLE}${one.check}` === entry);
    if (sample !== undefined)
      return ok({
        records: [
          { type: 'withdraw', check: sample.check, entry: null, web_m: context.view.position.web_m, ...whyOf(form) },
        ],
        said: `Sample ${sample.check} thrown away, not read.`,
        thrown: String(sample.check),
      });
    return ok({
      records: [
        { type: 'withdraw', check: null, entry: Number(entry), web_m: context.view.position.web_m, ...whyOf(form) },
      ],
      said: 'Taken back. Key it again if it was only mis-keyed.',
    });
  },
};

const whyOf = (form: Form): { readonly why?: string } => {
  const why = textOf(form, 'why').trim();
  return why === '' ? {} : { why };
};

const SAMPLE = 'sample ';
