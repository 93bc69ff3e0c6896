import type { Cause, Finding } from '../finding.js';
import type { Judged, Movement, Said } from './state.js';

/** What has changed since it was last said, in the order that one row is told: event, advice, correction, closed, suspect, plate. */
export const announce = (said: Said, judged: Judged): { readonly said: Said; readonly found: readonly Finding[] } => {
  const events: Finding[] = [];
  const advice: Finding[] = [];
  const closed: Finding[] = [];
  let next_id = said.next_id;
  const now = new Map(judged.movements.map((m) => [m.key, m]));
  const kept: Said['events'][number][] = [];

  for (const was of said.events) {
    const movement = now.get(was.key);
    if (was.closed) {
      kept.push(was);
      continue;
    }
    if (movement === undefined) {
      closed.push({ type: 'closed', event: was.id, how: 'withdrawn' });
      kept.push({ ...was, closed: true });
      continue;
    }
    kept.push(told(was, movement));
  }
  for (const movement of judged.movements) {
    if (said.events.some((e) => e.key === movement.key)) continue;
    const id = next_id++;
    kept.push(
      told(
        {
          id,
          key: movement.key,
          severity: movement.severity,
          cause: movement.cause,
          axis: movement.axis,
          advice: null,
          closed: false,
        },
        movement,
        true,
      ),
    );
  }

  const corrections = judged.turns.filter((t) => t.result !== null && !said.corrections.includes(t.seq));
  const corrected: Finding[] = corrections.flatMap((t) =>
    t.result === null
      ? []
      : [{ ...t.result, event: t.event === null ? null : (kept.find((e) => e.key === t.event)?.id ?? null) }],
  );
  const plates = judged.plate_said.filter((p) => !said.plates.includes(p.key));
  const idOf = (key: number | null): number | null => kept.find((e) => e.key === key)?.id ?? null;
  const spans = judged.holds.spans
    .filter((span) => !said.spans.some((s) => s.key === span.key && (s.ended || span.to === null)))
    .toSorted((a, b) => (idOf(a.event) ?? Infinity) - (idOf(b.event) ?? Infinity));

  return {
    said: {
      next_id,
      events: kept.slice(-KEPT),
      corrections: [...said.corrections, ...corrections.map((t) => t.seq)].slice(-KEPT),
      plates: [...said.plates, ...plates.map((p) => p.key)].slice(-KEPT),
      spans: [
        ...said.spans.filter((s) => !spans.some((span) => span.key === s.key)),
        ...spans.map((span) => ({ key: span.key, ended: span.to !== null })),
      ].slice(-KEPT_SPANS),
    },
    found: [
      ...events,
      ...advice,
      ...corrected,
      ...closed,
      ...spans.map(({ key: _, event, station, ...span }): Finding => {
        const id = idOf(event);
        return { type: 'suspect', event: id, ...(id === null ? { station } : {}), ...span };
      }),
      ...plates.map(({ key: _key, ...plate }): Finding => ({ type: 'plate', ...plate })),
    ],
  };

  function told(was: Said['events'][number], m: Movement, fresh = false): Said['events'][number] {
    const changed = fresh || ((was.severity !== m.severity || !sameCause(was.cause, m.cause)) && m.closed === null);
    if (changed)
      events.push({
        type: 'event',
        id: was.id,
        severity: m.severity,
        axis: m.axis,
        cause: m.cause,
        ...(m.pair === null ? {} : { pair: m.pair }),
        confidence: m.confidence,
        since: m.since,
        moved_mm: m.moved_mm,
        shape: m.shape,
        out_before_next_check: m.out_before_next_check,
        reach_limit: m.reach_limit,
      });
    let said_advice = was.advice;
    if (m.advice !== null && m.severity !== 'note' && m.closed === null) {
      const key = JSON.stringify(m.advice.moves);
      if (changed || key !== was.advice) advice.push({ ...m.advice, event: was.id });
      said_advice = key;
    }
    if (m.closed !== null) closed.push({ type: 'closed', event: was.id, how: m.closed.how });
    return {
      id: was.id,
      key: was.key,
      severity: m.severity,
      cause: m.cause,
      axis: m.axis,
      advice: said_advice,
      closed: m.closed !== null,
    };
  }
};

const KEPT = 400;
/** More than are remembered of holds, so that none is told twice. */
const KEPT_SPANS = 1100;

export const sameCause = (a: Cause, b: Cause): boolean => {
  if (a.kind !== b.kind) return false;
  if (a.kind === 'station' && b.kind === 'station') return a.station === b.station;
  if (a.kind === 'several' && b.kind === 'several') return a.stations.join('\n') === b.stations.join('\n');
  return true;
};
