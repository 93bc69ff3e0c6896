import { fail, ok, type Result } from '../../core/result.js';
import { lengthFromM, lengthToM } from '../../core/units.js';
import { lengthWords } from '../../core/views/number-words.js';
import { type Field, type Form, numberField, textOf } from '../form.js';
import type { ActContext } from './act.js';

/** The counter as the press shows it, carried on from the last reading when that is known. */
export function counterField(context: ActContext, name = 'counter', label = 'counter'): Field {
  const { web_m, counter_minus_web_m } = context.view.position;
  const field = numberField(
    name,
    `${label}, ${context.view.units.length}`,
    web_m === null ? '' : inUnits(web_m + counter_minus_web_m, context),
  );
  // Shown whole, taken to the millimetre: rounding down would put the web back.
  return web_m === null ? field : { ...field, exact: Math.ceil(web_m * 1000) / 1000 };
}

/** Web position for a counter as keyed; the counter is as the press shows it. */
export function readCounter(form: Form, context: ActContext, name = 'counter'): Result<number> {
  const field = form.fields.find((one) => one.name === name);
  if (field?.exact !== undefined) return ok(field.exact);
  const counter = readLength(textOf(form, name), context);
  if (!counter.ok) return counter;
  return ok(counter.value - context.view.position.counter_minus_web_m);
}

/** A length as keyed in the job's unit, in metres; blanks between groups of digits are taken. */
export function readLength(text: string, context: ActContext): Result<number> {
  const tight = text.replace(/[\s\u00A0\u202F']/g, '').replace(',', '.');
  const unit = context.view.units.length;
  if (tight === '') return fail(`Key the counter as the press shows it, in ${unit}.`);
  if (!/^-?\d{1,9}(\.\d{1,3})?$/.test(tight)) return fail(`"${text}" is not a counter: key digits, in ${unit}.`);
  return ok(lengthToM(Number(tight), unit, context.view.repeat_mm));
}

/** "21 460 m" of a counter field as it stands, or the bare text while it cannot be read. */
export function counterWords(form: Form, context: ActContext, name = 'counter'): string {
  const text = textOf(form, name);
  const read = readLength(text, context);
  return read.ok
    ? lengthWords(read.value, context.view.units.length, context.view.repeat_mm)
    : text === ''
      ? 'counter ?'
      : text;
}

export const inUnits = (m: number, context: ActContext): string =>
  String(Math.round(lengthFromM(m, context.view.units.length, context.view.repeat_mm)));
