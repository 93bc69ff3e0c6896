import { flawFields, flawList } from '../../core/plates/flaw.js';
import { parseKeyed } from '../../core/reading.js';
import type { Check, StationReading } from '../../core/record.js';
import type { BoardView, StationView } from '../../core/views/board-view.js';
import { type Draft, type DraftRow, rowOf } from './draft.js';
import { flawIn } from './flaw.js';
import { edgeOf, gridView } from './grid-view.js';
import { parsePlate } from './plate-text.js';
import { labelOf } from './second-label.js';

/** The check as it goes to the log: only what was read; blank stays blank. */
export function toCheck(draft: Draft, view: BoardView): Check {
  const readings = gridView(view, draft)
    .stations.map((station) => toReading(draft, station, view))
    .filter((one): one is StationReading => one !== null);
  // Positions are told anew from OK to run on: the sample knows where it stands by now.
  const pulled = labelOf(draft, view) ?? view.pulled.find((one) => one.check === draft.check);
  return {
    type: 'check',
    check: draft.check,
    web_m: pulled?.web_m ?? draft.web_m,
    roll: pulled === undefined ? draft.roll : pulled.roll,
    pulled_at: draft.pulled_at,
    source: 'keyed',
    place: null,
    readings,
    ...(draft.note === '' ? {} : { note: draft.note }),
  };
}

function toReading(draft: Draft, station: StationView, view: BoardView): StationReading | null {
  const row = rowOf(draft, station.id);
  const along_mm = mmOf(row.along, 'along', view);
  const across_mm = mmOf(row.across, 'across', view);
  const plate = parsePlate(row.plate);
  // Looked at: said of what was not measured.
  const look = along_mm !== null && across_mm !== null ? null : row.look;
  const grade = plate.ok ? plate.value.grade : null;
  const flaws = plate.ok ? plate.value.flaws : null;
  const { station: id, edge } = edgeOf(station.id, draft);
  if (edge === 'gear' && along_mm === null && across_mm === null) return null;
  if (along_mm === null && across_mm === null && look === null && grade === null && flaws === null) return null;
  return {
    station: id,
    along_mm,
    across_mm,
    look,
    // An edge means something only where the other one was read too.
    edge: edge === 'operator' && isBlank(rowOf(draft, `${id}|gear`)) ? null : edge,
    plate: grade,
    flaws,
    labels: plate.ok ? plate.value.labels : null,
    ...flawFields(flawIn(draft, id)),
  };
}

const isBlank = (row: DraftRow): boolean => row.along === '' && row.across === '';

function mmOf(text: string, axis: 'along' | 'across', view: BoardView): number | null {
  const keyed = parseKeyed(text, view.units.register, axis);
  return keyed.ok ? keyed.value.mm : null;
}

/** What the check holds, in words, for the line that Enter confirms. */
export function draftWords(draft: Draft, view: BoardView): string {
  const { readings } = toCheck(draft, view);
  const measured = new Set(
    readings.filter((one) => one.along_mm !== null || one.across_mm !== null).map((one) => one.station),
  ).size;
  const inTolerance = readings.filter((one) => one.look === 'in').length;
  const off = readings
    .filter((one) => one.look === 'off')
    .map((one) => view.stations.find((s) => s.id === one.station)?.label ?? one.station);
  const plates = readings.filter((one) => one.plate !== null);
  const bad = plates
    .filter((one) => one.plate !== 'clean')
    .map((one) => {
      const flaw = flawList(flawIn(draft, one.station)).replace(' edge', '');
      const label = view.stations.find((s) => s.id === one.station)?.label ?? one.station;
      return `${label} ${one.plate}${flaw === '' ? '' : ` (${flaw})`}`;
    });
  const parts = [
    measured > 0 ? `${measured} measured` : '',
    inTolerance > 0 ? `${inTolerance} looked, in` : '',
    off.length > 0 ? `LOOKED OFF: ${off.join(', ')}` : '',
    bad.length > 0 ? `plates: ${bad.join(', ')}` : plates.length > 0 ? `${plates.length} plates clean` : '',
  ].filter((one) => one !== '');
  return parts.length === 0 ? 'nothing keyed yet' : parts.join('; ');
}

/** What is typed so far, minus the aim, mm, by station: the strip moves with it. */
export function typedOn(draft: Draft, axis: 'along' | 'across', view: BoardView): ReadonlyMap<string, number> {
  const typed = new Map<string, number>();
  for (const station of view.stations) {
    const rows = [station.id, ...((draft.edges ?? []).includes(station.id) ? [`${station.id}|gear`] : [])];
    const read = rows.map((row) => mmOf(rowOf(draft, row)[axis], axis, view)).filter((mm) => mm !== null);
    // Both edges: their middle is what a knob can bring to zero.
    if (read.length > 0)
      typed.set(station.id, read.reduce((sum, mm) => sum + mm, 0) / read.length - station.axes[axis].aim_mm);
  }
  return typed;
}
