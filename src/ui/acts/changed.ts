import { parseMargin } from '../../core/reading.js';
import { fail, ok } from '../../core/result.js';
import { choiceField, choiceLabel, type Form, numberField, textOf } from '../form.js';
import type { Act } from './act.js';
import { counterField, counterWords, readCounter } from './counter-field.js';

/** A plate, the die, the reference or a tolerance was changed: from here on, never backwards. */
export const changed: Act = {
  name: 'changed',
  title: 'changed on the press',
  open: (context) => {
    const stations = context.view.stations.map((one) => ({ value: one.id, label: one.label }));
    return ok(
      revise({
        act: 'changed',
        at: 0,
        message: null,
        carried: {},
        fields: [
          choiceField('what', 'what', WHAT, 'plate'),
          choiceField('station', 'station', stations, context.selected.station),
          numberField('along', `tolerance along each way, ${context.view.units.register} (blank: as it was)`),
          numberField('across', `tolerance across each way, ${context.view.units.register} (blank: as it was)`),
          counterField(context),
        ],
      }),
    );
  },
  revise: (form) => revise(form),
  sentence: (form, context) => {
    const station = choiceLabel(form, 'station');
    const at = counterWords(form, context);
    const what = textOf(form, 'what');
    if (what === 'die') return `The DIE was changed at ${at}? A full check is due after it.`;
    if (what === 'reference') return `From ${at} on everything is read against ${station}?`;
    if (what === 'tolerance')
      return `TOLERANCE of ${station} from ${at} on: along ${textOf(form, 'along') || 'as it was'}, across ${textOf(form, 'across') || 'as it was'}?`;
    return `New or remounted PLATE on ${station} at ${at}? A full check is due after it.`;
  },
  outcome: (form, context) => {
    const web_m = readCounter(form, context);
    if (!web_m.ok) return web_m;
    const station = textOf(form, 'station');
    const what = textOf(form, 'what');
    const view = context.view.stations.find((one) => one.id === station);
    const said = `${WHAT.find((one) => one.value === what)?.label ?? what} noted, from here on.`;
    if (what === 'die') return ok({ records: [{ type: 'die', web_m: web_m.value }], said });
    if (what === 'plate')
      return view?.kind === 'die'
        ? fail('The die has no plate: choose "die", or a print station.')
        : ok({ records: [{ type: 'plate', station, web_m: web_m.value }], said });
    if (what === 'reference') {
      if (view?.is_reference === true) return fail(`${view.label} is the reference already.`);
      return view?.kind === 'die' || view?.read !== 'measure'
        ? fail('The reference must be a print station whose mark is measured.')
        : ok({ records: [{ type: 'reference', station, web_m: web_m.value }], said });
    }
    const along = parseMargin(textOf(form, 'along'), context.view.units.register);
    const across = parseMargin(textOf(form, 'across'), context.view.units.register);
    if (!along.ok) return along;
    if (!across.ok) return across;
    if (along.value.mm === null && across.value.mm === null)
      return fail('Key the new tolerance, along or across or both.');
    if (along.value.mm === 0 || across.value.mm === 0)
      return fail('A tolerance of 0 cannot be held: key how far it may be off each way.');
    return ok({
      records: [
        { type: 'tolerance', web_m: web_m.value, station, along_mm: along.value.mm, across_mm: across.value.mm },
      ],
      said,
    });
  },
};

const WHAT = [
  { value: 'plate', label: 'plate' },
  { value: 'die', label: 'die' },
  { value: 'reference', label: 'reference' },
  { value: 'tolerance', label: 'tolerance' },
];

function revise(form: Form): Form {
  const what = form.fields[0]?.text;
  const hidden = (name: string): boolean =>
    (name === 'station' && what === 'die') || ((name === 'along' || name === 'across') && what !== 'tolerance');
  return { ...form, fields: form.fields.map((one) => ({ ...one, hidden: hidden(one.name) })) };
}
