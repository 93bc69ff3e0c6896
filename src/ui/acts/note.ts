import { fail, ok } from '../../core/result.js';
import { choiceField, NOTE_MOST, textField, textOf } from '../form.js';
import type { Act } from './act.js';

/** A note for the handover; it warns of nothing and rings nothing. */
export const note: Act = {
  name: 'note',
  title: 'note',
  open: (context) =>
    ok({
      act: 'note',
      at: 0,
      message: null,
      carried: {},
      fields: [
        { ...textField('text', 'note'), most: NOTE_MOST },
        choiceField(
          'station',
          'about',
          [
            { value: '', label: 'the run' },
            ...context.view.stations.map((one) => ({ value: one.id, label: one.label })),
          ],
          '',
        ),
      ],
    }),
  sentence: () => 'Put this note in the log?',
  outcome: (form, context) => {
    const text = textOf(form, 'text');
    if (text === '') return fail('The note is empty.');
    const station = textOf(form, 'station');
    return ok({
      records: [{ type: 'note', web_m: context.view.position.web_m, text, ...(station === '' ? {} : { station }) }],
      said: 'Noted.',
    });
  },
};
