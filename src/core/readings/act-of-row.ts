import type { Job } from '../job.js';
import { nearest } from '../nearest.js';
import type { Press } from '../press.js';
import { quoted } from '../quoted.js';
import type { CheckId, RecordBody } from '../record.js';
import { ok, type Result } from '../result.js';
import type { Row } from './row.js';
import { rowTrouble } from './row-trouble.js';

/** What a row's meaning hangs on besides its own cells. */
export type RowSetting = {
  readonly press: Press;
  readonly job: Job;
  readonly file: string;
  /** Web position of the row, m. */
  readonly at_m: number;
  /** Finished roll last named by the rows before, and check last made. */
  readonly roll: string | null;
  readonly check: CheckId | null;
  /** No row of the file is `finished`: then a new stock roll is a finished one too. */
  readonly rollsAreBoth: boolean;
};

/**
 * What a row other than a reading says happened. A correction on both axes is two records; a move of 0 is none. A tolerance row may name a station, or
 * `print` or `die` for all of that kind. An `ok` row holds to dead register unless its `value` (or `note`) is `sample`. A wash without a station is of
 * all plates.
 */
export const actOfRow = (row: Row, setting: RowSetting): Result<readonly RecordBody[]> => {
  const { file, at_m: web_m } = setting;
  const unknown = stationTrouble(row, setting);
  if (unknown !== null) return rowTrouble(file, row, unknown);
  const station = row.station;
  const needed = (what: string) => rowTrouble(file, row, `column ${what}; it is needed on a ${row.kind} row`);
  switch (row.kind) {
    case 'ok':
      return ok([
        {
          type: 'ok',
          web_m,
          zero_m: null,
          passed_by: row.by ?? 'not said',
          check: row.check ?? setting.check,
          hold_to: holdTo(row),
        },
      ]);
    case 'correction':
      return station === null ? needed('station: blank') : correction(row, station, setting);
    case 'roll':
      if (typeof row.value === 'number' && row.value <= 0)
        return rowTrouble(file, row, `column value: found ${row.value}; the length of a roll is more than 0 m`);
      return ok([
        {
          type: 'roll',
          web_m,
          length_m: numberOf(row),
          roll: row.roll ?? (setting.rollsAreBoth ? setting.roll : null),
          also_finished: setting.rollsAreBoth,
        },
      ]);
    case 'finished': {
      const roll = row.roll ?? setting.roll;
      return roll === null
        ? needed('roll: blank, and no row before names a roll')
        : ok([{ type: 'finished', web_m, roll }]);
    }
    case 'wash':
      return ok([{ type: 'wash', station: station ?? 'all', web_m }]);
    case 'speed': {
      const speed = numberOf(row);
      if (speed === null) return needed('value: blank');
      return speed < 0
        ? rowTrouble(file, row, `column value: found ${speed}; a speed is 0 m/min or more`)
        : ok([{ type: 'speed', web_m, m_per_min: speed }]);
    }
    case 'start': {
      const speed = numberOf(row);
      return ok([{ type: 'start', web_m, ...(speed === null ? {} : { m_per_min: speed }) }]);
    }
    case 'plate':
      return station === null ? needed('station: blank') : ok([{ type: 'plate', station, web_m }]);
    case 'reference':
      return station === null ? needed('station: blank') : reference(row, station, setting);
    case 'tolerance':
      return station === null ? needed('station: blank') : tolerance(row, station, setting);
    case 'withdraw':
      return row.value === null && row.check === null
        ? needed('value: blank')
        : ok([
            { type: 'withdraw', check: row.value ?? row.check, entry: null, web_m: row.web_m === null ? null : web_m },
          ]);
    case 'counter': {
      const offset_m = numberOf(row);
      return offset_m === null ? needed('value: blank') : ok([{ type: 'counter', offset_m, web_m }]);
    }
    case 'note':
      return row.note === null
        ? needed('note: blank')
        : ok([
            {
              type: 'note',
              web_m: row.web_m === null ? null : web_m,
              text: row.note,
              ...(station === null ? {} : { station }),
            },
          ]);
    case 'stop':
    case 'die':
    case 'seen':
    case 'end':
      return ok([{ type: row.kind, web_m }]);
    default:
      return rowTrouble(file, row, `a ${row.kind} row is no act`);
  }
};

/** Why a row's station cannot be, or null. */
export const stationTrouble = (row: Row, { press, job }: Pick<RowSetting, 'press' | 'job'>): string | null => {
  const { station, kind } = row;
  const ids = job.stations.map(({ id }) => id);
  if (station === null || ids.includes(station)) return null;
  if (
    kind === 'die' ||
    (kind === 'wash' && station === 'all') ||
    (kind === 'tolerance' && (station === 'print' || station === 'die'))
  )
    return null;
  const where = press.stations.some(({ id }) => id === station)
    ? 'on the press but not in the job'
    : 'not on the press';
  const meant = nearest(station, ids);
  return `column station: found ${quoted(station)}, which is ${where}; allowed: ${ids.map((id) => quoted(id)).join(', ')}${meant === null ? '' : `, did you mean ${quoted(meant)}?`}`;
};

const numberOf = ({ value }: Row): number | null => (typeof value === 'number' ? value : null);

const holdTo = ({ value, note }: Row): 'aim' | 'sample' =>
  [value, note].some((cell) => typeof cell === 'string' && /^(hold to |the )*(passed )?sample$/i.test(cell.trim()))
    ? 'sample'
    : 'aim';

const correction = (row: Row, station: string, { file, at_m }: RowSetting): Result<readonly RecordBody[]> => {
  const moves = (['along', 'across'] as const).flatMap((axis): readonly RecordBody[] => {
    const move_mm = row[`${axis}_mm`];
    return move_mm === null || move_mm === 0
      ? []
      : [{ type: 'correction', station, axis, move_mm, teeth: null, divisions: null, web_m: at_m }];
  });
  return moves.length > 0
    ? ok(moves)
    : rowTrouble(
        file,
        row,
        'columns along_mm and across_mm: blank or 0; a correction says how far the print was moved',
      );
};

const reference = (
  row: Row,
  station: string,
  { press, job, file, at_m }: RowSetting,
): Result<readonly RecordBody[]> => {
  const isPrint = press.stations.some(({ id, kind }) => id === station && kind === 'print');
  const readable = job.stations.some(({ id, read }) => id === station && read !== 'never');
  if (isPrint && readable) return ok([{ type: 'reference', station, web_m: at_m }]);
  return rowTrouble(
    file,
    row,
    `column station: found ${quoted(station)}, which cannot be the reference: it is the die, or has no mark that can be read`,
  );
};

const tolerance = (
  row: Row,
  station: string,
  { press, job, file, at_m }: RowSetting,
): Result<readonly RecordBody[]> => {
  const { along_mm, across_mm } = row;
  if (along_mm === null && across_mm === null)
    return rowTrouble(
      file,
      row,
      'columns along_mm and across_mm: blank; a tolerance row gives mm each way from the aim',
    );
  const odd = [along_mm, across_mm].find((mm) => mm !== null && (mm <= 0 || mm > 50));
  if (odd !== undefined)
    return rowTrouble(file, row, `found a tolerance of ${odd} mm; allowed: more than 0 and at most 50`);
  const ofKind = job.stations
    .filter(({ id }) => press.stations.some((other) => other.id === id && other.kind === station))
    .map(({ id }) => id);
  const stations = job.stations.some(({ id }) => id === station) ? [station] : ofKind;
  if (stations.length === 0)
    return rowTrouble(file, row, `column station: found ${quoted(station)}, but no station of the job is of that kind`);
  return ok(stations.map((id): RecordBody => ({ type: 'tolerance', web_m: at_m, station: id, along_mm, across_mm })));
};
