import { fail, ok, type Result } from '../result.js';
import type { Answers, Understood } from './question.js';
import { type Length, type LengthAsked, understandLength } from './understand-length.js';
import { understandLengths } from './understand-lengths.js';
import type { WebOrder } from './web-order.js';

/** From one station to the next: metres of web path, or the key of the question that is still to be answered. */
export type Gap = {
  readonly from: string;
  readonly to: string;
  readonly key: string;
  readonly m: number | null;
  /** What most of its neighbours are, as typed; null = not known. */
  readonly usual: string | null;
};

/** What a distance between two stations may be. */
export const GAP_ASKED: LengthAsked = { unit: 'm', repeat_mm: 1, low_m: 0.01, high_m: 100 };

/** Every distance of the press as far as it is answered: one spacing for all print stations, all in one line, or each by itself. */
export const webGaps = (answers: Answers, order: WebOrder): readonly Gap[] => {
  const spacing = answers['press.spacing'];
  const all = spacing === undefined || spacing === EACH ? null : listed(spacing);
  let before: string | null = null;
  return order.ids.slice(1).map((to, index) => {
    const from = order.ids[index] ?? '';
    const key = `press.gap.${index + 1}`;
    const besideDie = from === order.die || to === order.die;
    const one = all?.length === 1 ? all[0] : undefined;
    const given = all !== null && all.length > 1 ? all[index] : besideDie ? undefined : one;
    if (given !== undefined) return { from, to, key, m: given.m, usual: null };
    const usual = one?.text ?? before;
    const answered = answers[key];
    const length = answered === undefined ? null : understandLength(answered, GAP_ASKED);
    before = answered ?? before;
    return { from, to, key, m: length?.ok === true ? length.value.m : null, usual };
  });
};

/** One for all, or one for each distance. */
export const understandSpacing = (text: string, order: WebOrder): Result<Understood> => {
  if (/^each( one)?$/i.test(text.trim())) return ok({ text: EACH });
  const lengths = understandLengths(text, GAP_ASKED);
  if (!lengths.ok) return lengths;
  const gaps = order.ids.length - 1;
  if (lengths.value.length !== 1 && lengths.value.length !== gaps)
    return fail(
      `${lengths.value.length} distances for ${order.ids.length} stations? Give one for all, or ${gaps} (${order.ids.join(' to ')})`,
    );
  return ok({ text: lengths.value.map((length) => length.text).join(', ') });
};

const EACH = 'each';

const listed = (spacing: string): readonly Length[] | null => {
  const read = understandLengths(spacing, GAP_ASKED);
  return read.ok ? read.value : null;
};
