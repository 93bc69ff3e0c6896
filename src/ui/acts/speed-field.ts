import { fail, ok, type Result } from '../../core/result.js';
import { M_PER_FOOT } from '../../core/units.js';
import { type Field, type Form, numberField, textOf } from '../form.js';
import type { ActContext } from './act.js';

/** The speed of the web as the press shows it: feet a minute in a job in feet, else metres a minute. */
export const speedUnit = (context: ActContext): string => (context.view.units.length === 'ft' ? 'ft/min' : 'm/min');

export function speedField(context: ActContext, blank: string): Field {
  const { speed_m_min } = context.view.position;
  const known = speed_m_min !== null && speed_m_min > 0;
  const field = numberField(
    'speed',
    `speed, ${speedUnit(context)} (blank: ${blank})`,
    known ? String(Math.round(speed_m_min / perUnit(context))) : '',
  );
  return known ? { ...field, exact: speed_m_min } : field;
}

/** Metres a minute as keyed; null = blank. What stood there already stays as exact as it was. */
export function readSpeed(form: Form, context: ActContext): Result<number | null> {
  const text = textOf(form, 'speed');
  const field = form.fields.find((one) => one.name === 'speed');
  if (text === '') return ok(null);
  if (field?.exact !== undefined) return ok(field.exact);
  if (!/^\d{1,5}([.,]\d+)?$/.test(text))
    return fail(`"${text}" is not a speed: key ${speedUnit(context)}, or leave it blank.`);
  return ok(Number(text.replace(',', '.')) * perUnit(context));
}

const perUnit = (context: ActContext): number => (context.view.units.length === 'ft' ? M_PER_FOOT : 1);
