import { labelsIn } from '../hold/labels-in.js';
import type { Traced } from '../job.js';
import type { LogRecord } from '../record.js';
import { heldStretches, partState } from '../run/held.js';
import type { RunState } from '../run/state.js';
import { eventNames } from './event-names.js';
import { wholeWords } from './number-words.js';

/** What the product was made from, for the papers: one fact a line, nothing where nothing was given. */
export const tracedFacts = (state: RunState, log: readonly LogRecord[]): readonly TracedFact[] => {
  const { traced } = state.job;
  const { labels } = eventNames(state);
  const stock = log.flatMap((r) =>
    r.type === 'roll' && (r.stock !== undefined || r.lot !== undefined)
      ? [`${r.stock ?? 'without number'}${r.lot === undefined ? '' : ` (lot ${r.lot})`}`]
      : [],
  );
  const fact = (term: string, says: string | null): readonly TracedFact[] => (says === null ? [] : [{ term, says }]);
  const given = traced ?? NOTHING;
  return [
    ...fact('Order', given.order),
    ...fact('Customer', given.customer),
    ...fact('Ordered', given.quantity === null ? null : `${wholeWords(given.quantity)} labels`),
    ...fact('Substrate', given.substrate),
    ...fact('Substrate lot', given.substrate_lot),
    ...fact('Stock rolls', stock.length === 0 ? null : stock.join(', ')),
    ...fact('Plates', given.plate_set),
    ...fact('Die', given.die_number),
    ...fact('Inks', inkWords(given, labels)),
    ...Object.entries(given.extra).map(([term, says]) => ({ term, says })),
  ];
};

export type TracedFact = { readonly term: string; readonly says: string };

const NOTHING: Traced = {
  order: null,
  customer: null,
  quantity: null,
  substrate: null,
  substrate_lot: null,
  plate_set: null,
  die_number: null,
  stations: {},
  extra: {},
};

const inkWords = ({ stations }: Traced, labels: Readonly<Record<string, string>>): string | null => {
  const each = Object.entries(stations).map(([id, { ink_lot, anilox }]) =>
    [
      labels[id] ?? id,
      ...(ink_lot === null ? [] : [`lot ${ink_lot}`]),
      ...(anilox === null ? [] : [`anilox ${anilox}`]),
    ].join(' '),
  );
  return each.length === 0 ? null : each.join('; ');
};

/** Labels by what became of them, and which finished rolls may ship. */
export type ProductTotals = {
  readonly made: number;
  /** null = the job does not say. */
  readonly ordered: number | null;
  /** On hold or being re-inspected. */
  readonly held: number;
  readonly released: number;
  readonly reworked: number;
  readonly scrapped: number;
  /** Finished rolls of which nothing is held (any more) and whose end lies before the last check. */
  readonly may_ship: readonly string[];
};

/** Each metre counted once. Example: 2 000 m at 12 labels in 0.3048 m are 78 741 labels, rounded up. */
export const productTotals = (state: RunState): ProductTotals => {
  const { judged, job } = state;
  const count = { repeat_m: eventNames(state).repeat_mm / 1000, around: job.labels_around, across: job.labels_across };
  const checked_m = judged.last_check?.web_m ?? 0;
  const here_m = Math.max(checked_m, judged.web.base_m, 0);
  const parts = heldStretches(state)
    .flatMap((stretch) => stretch.parts)
    .map((part) => ({ ...part, state: partState(state, part).state }));
  const labels = (...states: readonly string[]): number =>
    labelsIn(
      parts
        .filter((part) => states.includes(part.state))
        .reduce((sum, { from_m, to_m }) => sum + Math.max(0, (to_m ?? here_m) - from_m), 0),
      count,
    );
  const kept = new Set(parts.flatMap(({ roll, state: stands }) => (stands === 'released' ? [] : [roll])));
  return {
    made: judged.ok === null ? 0 : labelsIn(here_m, count),
    ordered: job.traced?.quantity ?? null,
    held: labels('hold', 're-inspect'),
    released: labels('released'),
    reworked: labels('reworked'),
    scrapped: labels('scrapped'),
    may_ship:
      judged.ok === null
        ? []
        : judged.holds.rolls.flatMap(({ roll, end_m, told }) =>
            told && end_m > 0 && end_m <= checked_m && !kept.has(roll) ? [roll] : [],
          ),
  };
};
