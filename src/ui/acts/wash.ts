import { fail, ok } from '../../core/result.js';
import { choiceField, choiceLabel, textOf } from '../form.js';
import type { Act } from './act.js';
import { counterField, counterWords, readCounter } from './counter-field.js';

/** A plate was washed. */
export const wash: Act = {
  name: 'wash',
  title: 'plate washed',
  open: (context) => {
    const prints = context.view.stations.filter((one) => one.kind === 'print');
    const flagged =
      prints.find((one) => one.plate.flag === 'dirty') ??
      prints.find((one) => one.plate.flag !== null) ??
      prints.find((one) => one.id === context.selected.station) ??
      prints[0];
    if (flagged === undefined) return fail('No print station has a plate to wash.');
    return ok({
      act: 'wash',
      at: 0,
      message: null,
      carried: {},
      fields: [
        choiceField(
          'station',
          'plate of',
          prints.map((one) => ({ value: one.id, label: one.label })),
          flagged.id,
        ),
        counterField(context),
      ],
    });
  },
  sentence: (form, context) => `Plate of ${choiceLabel(form, 'station')} WASHED at ${counterWords(form, context)}?`,
  caution: () => 'Plates are washed with the press stopped and made safe, never on a moving one; by the press manual.',
  outcome: (form, context) => {
    const web_m = readCounter(form, context);
    if (!web_m.ok) return web_m;
    return ok({
      records: [{ type: 'wash', station: textOf(form, 'station'), web_m: web_m.value }],
      said: `Wash of ${choiceLabel(form, 'station')} noted.`,
    });
  },
};
