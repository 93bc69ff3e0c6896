import type { Job } from '../job.js';
import { quoted } from '../quoted.js';
import type { Check, StationReading } from '../record.js';
import { fail, ok, type Result } from '../result.js';
import { fromFlawNote } from './flaw-note.js';
import type { Row } from './row.js';
import { rowTrouble } from './row-trouble.js';

/**
 * The rows of one sample as one check. The order of the rows means nothing: readings come in the order of the job's stations, operator side before gear
 * side. A row without a station may carry a note for the whole check. `web_m` and the time are the pull's: cells left blank take them from the
 * other rows, cells that differ are refused.
 */
export const checkOfRows = (rows: readonly Row[], job: Job, file: string): Result<Check> => {
  const [first] = rows;
  if (first === undefined) return fail(`${file}: a check without rows`, file);
  if (first.check === null)
    return rowTrouble(file, first, 'column check: blank; a reading belongs to a numbered check');
  const refused = rows.map((row) => rowRefusal(row)).find((why) => why !== null);
  if (refused !== undefined) return rowTrouble(file, refused.row, refused.why);
  const web_m = agreed(rows, 'web_m', file);
  const roll = agreed(rows, 'roll', file);
  const bySensor = new Set(rows.map(({ by }) => by === 'sensor'));
  if (!web_m.ok) return web_m;
  if (!roll.ok) return roll;
  if (web_m.value === null)
    return rowTrouble(
      file,
      first,
      `column web_m: blank on every row of check ${first.check}; give the counter when the sample was pulled`,
    );
  if (bySensor.size > 1)
    return rowTrouble(
      file,
      first,
      `column by: check ${first.check} is of the sensor on some rows and keyed on others; make it two checks`,
    );
  const twice = doubled(rows);
  if (twice !== null)
    return rowTrouble(
      file,
      twice,
      `station ${quoted(twice.station)} stands twice in check ${first.check}; for the two edges of the web fill in column edge on both`,
    );
  const place = new Map(job.stations.map(({ id }, index) => [id, index]));
  const measured = rows
    .filter(({ station }) => station !== null)
    .toSorted(
      (a, b) => (place.get(a.station ?? '') ?? 0) - (place.get(b.station ?? '') ?? 0) || edgeOrder(a) - edgeOrder(b),
    );
  const times = rows.flatMap(({ time }) => (time === null ? [] : [time])).toSorted();
  const notes = rows.flatMap(({ station, note }) => (station === null && note !== null ? [note] : []));
  return ok({
    type: 'check',
    check: first.check,
    web_m: web_m.value,
    roll: roll.value,
    pulled_at: times[0] ?? null,
    source: first.by === 'sensor' ? 'sensor' : 'keyed',
    place: null,
    readings: measured.map(readingOf),
    ...(notes.length === 0 ? {} : { note: notes.toSorted().join('\n') }),
  });
};

const readingOf = (row: Row): StationReading => ({
  station: row.station ?? '',
  along_mm: row.along_mm,
  across_mm: row.across_mm,
  look: row.look,
  edge: row.edge,
  plate: row.plate,
  flaws: row.flaws,
  labels: row.labels,
  ...fromFlawNote(row.note, row.plate),
});

const rowRefusal = (row: Row): { readonly row: Row; readonly why: string } | null => {
  if (row.flaws !== null && (row.labels === null || row.labels === 0))
    return {
      row,
      why: 'column labels: blank or 0, but flaws were counted; give the number of labels that were inspected',
    };
  const empty = [row.along_mm, row.across_mm, row.plate, row.flaws, row.labels, row.look, row.edge].every(
    (cell) => cell === null,
  );
  if (row.station === null && !(empty && row.note !== null))
    return { row, why: 'column station: blank; give the station that was read' };
  return null;
};

/** The one value that all rows which have any agree on. */
const agreed = <K extends 'web_m' | 'roll'>(rows: readonly Row[], column: K, file: string): Result<Row[K]> => {
  const filled = rows.filter((row) => row[column] !== null);
  const other = filled.find((row) => row[column] !== filled[0]?.[column]);
  if (other === undefined) return ok(filled[0]?.[column] ?? null);
  return rowTrouble(
    file,
    other,
    `column ${column}: found ${quoted(other[column])}, but check ${other.check} has ${quoted(filled[0]?.[column])} on line ${filled[0]?.line}; one check is one sample`,
  );
};

const doubled = (rows: readonly Row[]): Row | null => {
  const seen = new Map<string, Set<string>>();
  for (const row of rows) {
    if (row.station === null) continue;
    const edges = seen.get(row.station) ?? new Set();
    const edge = row.edge ?? '';
    if (edges.has(edge) || edges.has('') || (edge === '' && edges.size > 0)) return row;
    seen.set(row.station, edges.add(edge));
  }
  return null;
};

const edgeOrder = ({ edge }: Row): number => (edge === 'gear' ? 1 : 0);
