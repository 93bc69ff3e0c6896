import type { StationAxisView, StationView } from '../core/views/board-view.js';
import type { EventStory, HandoverView } from '../core/views/handover-view.js';
import type { HandoverData } from './handover-schema.js';
import { jsonText } from './json-text.js';

/** The handover as one JSON document of `handoverSchema`; names and notes exactly as they were given, JSON itself makes them harmless. */
export const handoverJson = (view: HandoverView): string => jsonText(handoverData(view));

/** The handover as data, before it is text. */
export function handoverData(view: HandoverView): HandoverData {
  const { board } = view;
  const { instruction } = board;
  return {
    format: 'handover/1',
    run: board.run,
    job: board.job,
    press: board.press,
    made_at: view.made_at,
    since_at: view.since_at,
    since_web_m: view.since_web_m,
    time_zone: view.time_zone,
    phase: board.phase,
    web_m: board.position.web_m,
    estimated: board.position.estimated,
    finished_roll: board.finished_roll.running,
    made_m: view.made_m,
    passed_by: view.passed_by,
    operators: [...view.operators],
    checks: { ...view.checks },
    stations: board.stations.map(stationData),
    do_now: {
      urgency: instruction.urgency,
      sentence: instruction.sentence,
      why: instruction.why,
      hand: [...instruction.hand],
    },
    imported: view.imported === undefined ? null : { ...view.imported },
    traced: (view.traced ?? []).map((fact) => ({ ...fact })),
    product: view.product === undefined ? null : { ...view.product, may_ship: [...view.product.may_ship] },
    abnormal: [...view.abnormal],
    holds: view.holds.map(({ from_m, to_m, rolls, labels, why, parts }) => ({
      from_m,
      to_m,
      rolls: [...rolls],
      labels,
      why: [...why],
      parts: parts.map((part) => ({ ...part, why: [...part.why] })),
    })),
    movements: view.stories.map(movementData),
    corrections: view.corrections.map(
      ({ at, by, web_m, station, axis, move_mm, teeth, divisions, advised, make_ready, withdrawn, result }) => ({
        at,
        by,
        web_m,
        station,
        axis,
        move_mm,
        teeth,
        divisions,
        advised,
        make_ready,
        withdrawn,
        result: result === null ? null : { took: result.took, got_mm: result.got_mm },
      }),
    ),
    next_check: board.next_check === null ? null : { ...board.next_check },
    summary: view.summary.map((row) => ({ ...row })),
    notes: view.notes.map((row) => ({ ...row })),
    log: view.log.map(({ roll_off: _, ...row }) => row),
    sign_off:
      view.sign_off === undefined || view.sign_off === null
        ? null
        : { ...view.sign_off, points: [...(view.sign_off.points ?? [])] },
    signed: (view.signed ?? []).map(({ number, at, outgoing, incoming, page }) => ({
      number,
      at,
      outgoing,
      incoming,
      page: page === undefined ? null : { ...page },
    })),
    paper: view.paper === undefined ? null : { ...view.paper },
  };
}

const stationData = (station: StationView): HandoverData['stations'][number] => ({
  station: station.id,
  label: station.label,
  kind: station.kind,
  reference: station.is_reference,
  read: station.read,
  register: { along: axisData(station.axes.along), across: axisData(station.axes.across) },
  plate: {
    grade: station.plate.grade,
    flaws: station.plate.flaws === null ? null : { ...station.plate.flaws },
    flaw: station.plate.flaw === '' ? null : station.plate.flaw,
    flag: station.plate.flag,
    cause: station.plate.cause,
    last_wash_m: station.plate.last_wash_m,
  },
});

const axisData = (axis: StationAxisView): HandoverData['stations'][number]['register']['along'] => ({
  last_mm: axis.last_mm,
  last_check: axis.last_check,
  looked: axis.looked,
  tolerance_mm: Number.isFinite(axis.tolerance_mm) ? axis.tolerance_mm : null,
  state: axis.state,
  travel_left_mm: axis.travel_left_mm === null ? null : { ...axis.travel_left_mm },
});

function movementData({
  event,
  found_at,
  found_check,
  found_web_m,
  advised,
  closed_web_m,
}: EventStory): HandoverData['movements'][number] {
  const { cause } = event;
  return {
    id: event.id,
    axis: event.axis,
    cause: cause.kind === 'several' ? { kind: 'several', stations: [...cause.stations] } : cause,
    severity: event.severity,
    shape: event.shape,
    confidence: event.confidence,
    since: { ...event.since },
    found: { check: found_check, web_m: found_web_m, at: found_at },
    moved_mm: event.moved_mm,
    open: event.open,
    closed: event.how_closed === null ? null : { how: event.how_closed, web_m: closed_web_m },
    seen: event.seen,
    sentence: event.sentence,
    advised: [...advised],
    done: [...event.done],
    hindsight: event.hindsight ?? null,
  };
}
