import type { OutReading } from '../hold/hold.js';
import type { HeldReason } from '../run/held.js';
import { type EventNames, listWords, sideWords } from './event-words.js';
import { sizeWords } from './number-words.js';

/**
 * Why product is held, by its own readings against the limits: "3 leaf 0.40 mm ahead at check 2 (allowed 0.15 mm); good again at check 3;
 * movement 1".
 */
export const whyWords = (
  reason: HeldReason,
  names: EventNames,
  idOf: (key: number) => number,
  misread: boolean,
): string => {
  if (reason.kind === 'person') return `held by ${reason.by}: ${reason.why}`;
  const label = names.labels[reason.station] ?? reason.station;
  const good =
    reason.good === null
      ? 'not good again yet'
      : `${misread ? 'read again on the same sample it was inside' : 'good again'}${reason.good.check === null ? '' : ` at check ${reason.good.check}`}${misread ? ', most likely a misreading' : ''}`;
  const movement = reason.event === null ? [] : [`movement ${idOf(reason.event)}`];
  return [`${reason.axis === 'plate' ? 'plate ' : ''}${label} ${outWords(reason, names)}`, good, ...movement].join(
    '; ',
  );
};

/** Readings that said so: of many the first, the worst and the latest, in the order of the web. */
const outWords = ({ axis, out }: Extract<HeldReason, { kind: 'print' }>, names: EventNames): string => {
  if (axis === 'plate') return `dirty at ${checks(out)}`;
  const size = ({ mm }: OutReading): number => Math.abs(mm ?? 0);
  const worst = out.reduce((a, b) => (size(b) > size(a) ? b : a));
  const told = out.filter((one, i) => i === 0 || i === out.length - 1 || one === worst);
  const each = told.map((one) => {
    const at = one.check === null ? '' : ` at check ${one.check}`;
    if (one.mm === null) return `seen off${at}, without a number`;
    const limit = one.limit_mm === null ? '' : ` (allowed ${sizeWords(one.limit_mm, names.register)})`;
    const apart = one.with === null ? '' : ` of ${names.labels[one.with] ?? one.with}`;
    return `${sizeWords(one.mm, names.register)} ${sideWords(axis, one.mm)}${apart}${at}${limit}`;
  });
  return [...new Set(each)].join(', ');
};

const checks = (out: readonly OutReading[]): string => {
  const ids = out.flatMap(({ check }) => (check === null ? [] : [String(check)]));
  return ids.length === 0 ? 'a check' : `${ids.length === 1 ? 'check' : 'checks'} ${listWords(ids)}`;
};
