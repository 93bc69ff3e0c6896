import { instructionWords } from '../adjust/words.js';
import { scatter } from '../drift/scatter-now.js';
import type { LogRecord } from '../record.js';
import type { RunState } from '../run/state.js';
import { watchConfig } from '../run/watch-config.js';
import { abnormalWords } from './abnormal-words.js';
import { actWords } from './act-words.js';
import { boardView } from './board.js';
import { eventNames } from './event-names.js';
import type { Gathered } from './gather.js';
import type { DoneCorrection, EventStory, HandoverView, LogLine, SignOff } from './handover-view.js';
import { holdSpans } from './hold-views.js';
import { knobNames } from './knob-names.js';
import { rollSpans } from './roll-spans.js';
import { summaryOf } from './summary.js';
import { takeBackWords } from './take-back-words.js';
import { productTotals, tracedFacts } from './traced.js';

/** The record one operator gives the next, from a point in time on (`since`: ISO; null = since the run began). */
export const handoverView = (
  state: RunState,
  gathered: Gathered,
  at_ms: number,
  since: string | null,
): HandoverView => {
  const board = boardView(state, at_ms);
  const names = eventNames(state);
  const inShift = (at: string): boolean => since === null || at >= since;
  const keys = new Map(state.said.events.map((e) => [e.id, e.key]));
  const idOf = (key: number | null): number | null => state.said.events.find((e) => e.key === key)?.id ?? null;
  const stories = board.events
    .toSorted((a, b) => a.id - b.id)
    .flatMap((event): EventStory[] => {
      const t = gathered.told.get(event.id);
      if (t === undefined || (!event.open && !inShift(t.at))) return [];
      // Where it was found by the records as they stand, not by a reading that was taken back since.
      const found = state.judged.movements.find((m) => m.key === keys.get(event.id))?.opened ?? t;
      const advised = t.advice.map((a) =>
        a.moves.length === 0
          ? a.why
          : instructionWords(a.moves, knobNames(state, event.axis), names.register).join(' '),
      );
      return [
        {
          event,
          found_at: found.at,
          found_check: String(found.check),
          found_web_m: found.web_m,
          advice: t.advice,
          advised,
          corrections: t.corrections,
          suspects: t.suspects,
          closed_web_m: t.closed_web_m,
        },
      ];
    });
  const passed = gathered.log.find((r) => r.type === 'ok' && !gathered.withdrawn.has(r.seq))?.seq ?? Infinity;
  const corrections = gathered.corrections
    .filter((c) => inShift(c.record.at))
    .map(({ record, result }): DoneCorrection => {
      const turn = state.judged.turns.find((t) => t.seq === record.seq);
      return {
        at: record.at,
        by: record.by,
        web_m: record.web_m,
        station: record.station,
        label: names.labels[record.station] ?? record.station,
        axis: record.axis,
        move_mm: record.move_mm,
        teeth: record.teeth,
        divisions: record.divisions,
        // Two equal turns of one knob are told apart by their entry, not by their size.
        result: gathered.withdrawn.has(record.seq)
          ? null
          : turn === undefined
            ? result
            : turn.result === null
              ? null
              : { ...turn.result, event: idOf(turn.event) },
        got_sd_mm: turn?.got_sd_mm ?? null,
        advised: turn?.advised ?? false,
        make_ready: record.seq < passed,
        withdrawn: gathered.withdrawn.has(record.seq),
      };
    });
  const lines = gathered.log.filter((r) => inShift(r.at) && !gathered.withdrawn.has(r.seq));
  const asLine = (record: LogRecord): LogLine => ({
    ...(record.type === 'finished' ? { roll_off: true } : {}),
    at: record.at,
    by: record.by,
    web_m: 'web_m' in record ? record.web_m : null,
    words: record.type === 'withdraw' ? takeBackWords(record, state.acts, names) : actWords(record, names),
  });
  const first = lines.find((r) => 'web_m' in r && r.web_m !== null);
  const ended = gathered.log.findLast((r) => r.type === 'end' && !gathered.withdrawn.has(r.seq));
  const begun = gathered.log[0];
  const signed = gathered.log.findLast((r) => r.type === 'shift' && !gathered.withdrawn.has(r.seq));
  return {
    board,
    time_zone: state.time_zone,
    made_at: new Date(at_ms).toISOString(),
    since_at: since ?? gathered.log[0]?.at ?? new Date(at_ms).toISOString(),
    since_web_m: since === null || first === undefined || !('web_m' in first) ? null : first.web_m,
    ...(ended === undefined || state.judged.phase !== 'ended' ? {} : { ended_at: ended.at }),
    sign_off: signed?.type === 'shift' && (since === null || signed.at > since) ? signOffOf(signed) : null,
    signed: gathered.log
      .filter((r) => r.type === 'shift' && !gathered.withdrawn.has(r.seq))
      .flatMap((r, i) =>
        r.type === 'shift'
          ? [{ ...signOffOf(r), number: i + 1, seq: r.seq, ...(r.page === undefined ? {} : { page: r.page }) }]
          : [],
      ),
    finished_rolls: rollSpans(
      gathered.log.filter((r) => !gathered.withdrawn.has(r.seq)),
      board.finished_roll.running,
    ),
    made_m:
      state.judged.last_check === null
        ? board.position.web_m
        : Math.max(board.position.web_m ?? 0, state.judged.last_check.web_m),
    passed_by: state.judged.ok?.passed_by ?? null,
    operators: [
      ...new Set(
        gathered.log
          // Who decides of held product is not for that on the press.
          .filter((r) => inShift(r.at) && r.type !== 'hold' && r.type !== 'held')
          .map((r) => r.by)
          .filter((by) => by !== 'program' && by !== 'sensor'),
      ),
    ],
    abnormal: abnormalWords(state, board),
    holds: holdSpans(state),
    ...(begun?.type === 'begin' && begun.imported !== undefined ? { imported: begun.imported } : {}),
    traced: tracedFacts(
      state,
      gathered.log.filter((r) => !gathered.withdrawn.has(r.seq)),
    ),
    product: productTotals(state),
    stories,
    corrections,
    log: lines.filter((r) => r.type !== 'note').map(asLine),
    notes: lines.filter((r) => r.type === 'note').map(asLine),
    checks: {
      made: state.judged.checks.made,
      looked_only: state.judged.checks.looked_only,
      sensor: state.judged.checks.sensor,
      withdrawn: state.withdrawn_checks.length,
    },
    summary: summaryOf(state),
    scatter_mm: scatterNow(state),
  };
};

const signOffOf = ({ at, outgoing, incoming, note, points }: Extract<LogRecord, { type: 'shift' }>): SignOff => ({
  at,
  outgoing,
  incoming,
  note,
  ...(points === undefined ? {} : { points }),
});

const scatterNow = (state: RunState): HandoverView['scatter_mm'] => {
  const { latest } = state.judged.watch;
  const watch = state.judged.watch[latest];
  if (watch === null) return { along: null, across: null };
  const known = scatter(watchConfig(state.press, state.job, state.judged, latest), watch);
  return { along: known.along.sigma_mm, across: known.across.sigma_mm };
};
