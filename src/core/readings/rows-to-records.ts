import type { Job } from '../job.js';
import type { Press } from '../press.js';
import { quoted } from '../quoted.js';
import type { CheckId, RecordBody } from '../record.js';
import { ok, type Problem, type Result } from '../result.js';
import { actOfRow, stationTrouble } from './act-of-row.js';
import { checkOfRows } from './check-of-rows.js';
import type { Row } from './row.js';
import { rowTrouble } from './row-trouble.js';

/** A record as rows of a file bring it, with what those rows themselves say, to be quoted unchanged. */
export type FileRecord = {
  readonly body: RecordBody;
  /** ISO time of the row; null when it gives none. */
  readonly at: string | null;
  readonly by: string | null;
  readonly run: string | null;
  readonly check: CheckId | null;
  /** As in the file: the counter, without the offset of a reset. */
  readonly web_m: number | null;
  readonly line: number;
};

export type FileRun = { readonly run: string | null; readonly records: readonly FileRecord[] };

/**
 * The rows of a file as records, run by run in the order in which the runs begin in the file; the file's name is for messages.
 *
 * Rows of one check stand together and become one record. After a `counter` row, web position = web_m + its `value`. Refused: a time before the row
 * before it, a web position that goes back (but corrections and washes may be recorded late), a station not on the press or not in the job, whatever a
 * kind needs and is blank. `ok` rows leave the positions as they are: a file counts from OK to run.
 */
export const rowsToRecords = (
  rows: readonly Row[],
  setup: { readonly press: Press; readonly job: Job },
  file = 'readings',
): Result<readonly FileRun[]> => {
  let trouble: Problem | null = null;
  const runs = runsOfRows(rows, setup, file, (problem) => {
    trouble ??= problem;
    return 'stop';
  });
  return trouble === null ? ok(runs) : { ok: false, problem: trouble };
};

/** The same, but what is wrong keeps back the row it is wrong with only; `heard` is told of each. */
export const soundRecords = (
  rows: readonly Row[],
  setup: { readonly press: Press; readonly job: Job },
  file: string,
  heard: (problem: Problem) => void,
): readonly FileRun[] =>
  runsOfRows(rows, setup, file, (problem) => {
    heard(problem);
    return 'go on';
  });

type Heard = (problem: Problem) => 'stop' | 'go on';

const runsOfRows = (
  rows: readonly Row[],
  setup: { readonly press: Press; readonly job: Job },
  file: string,
  heard: Heard,
): readonly FileRun[] => {
  const byRun = new Map<string | null, Row[]>();
  for (const row of rows) {
    const ofRun = byRun.get(row.run);
    if (ofRun === undefined) byRun.set(row.run, [row]);
    else ofRun.push(row);
  }
  const rollsAreBoth = !rows.some(({ kind }) => kind === 'finished');
  const runs: FileRun[] = [];
  for (const [run, ofRun] of byRun) {
    const records = recordsOfRun(ofRun, { ...setup, file, rollsAreBoth }, heard);
    if (records === 'stop') break;
    runs.push({ run, records });
  }
  return runs;
};

type Setting = { readonly press: Press; readonly job: Job; readonly file: string; readonly rollsAreBoth: boolean };

/** How far the rows before have come. */
type Reached = {
  readonly time: string | null;
  readonly at_m: number | null;
  readonly offset_m: number;
  readonly roll: string | null;
  readonly check: CheckId | null;
  /** Checks made and not withdrawn. */
  readonly made: ReadonlySet<CheckId>;
};

const recordsOfRun = (rows: readonly Row[], setting: Setting, heard: Heard): readonly FileRecord[] | 'stop' => {
  const records: FileRecord[] = [];
  const made = new Set<CheckId>();
  let reached: Reached = { time: null, at_m: null, offset_m: 0, roll: null, check: null, made };
  for (let index = 0; index < rows.length; ) {
    const group = groupAt(rows, index);
    index += group.length;
    const step = stepOf(group, reached, setting, heard);
    if (step === 'stop') return step;
    if (step === null) continue;
    for (const record of step.records) {
      records.push(record);
      if (record.body.type === 'check') made.add(record.body.check);
      if (record.body.type === 'withdraw' && record.body.check !== null) made.delete(record.body.check);
    }
    reached = { ...step.reached, made };
  }
  return records;
};

/** One act or check; when a row of it is refused and it goes on, the rest of the check is taken without that row; null = nothing is left. */
const stepOf = (rows: readonly Row[], reached: Reached, setting: Setting, heard: Heard): Step | 'stop' | null => {
  let left = rows;
  while (left.length > 0) {
    const step = left[0]?.kind === 'reading' ? checkStep(left, reached, setting) : actStep(left, reached, setting);
    if (step.ok) return step.value;
    if (heard(step.problem) === 'stop') return 'stop';
    const others = left.filter((row) => row.line !== step.problem.line);
    if (others.length === left.length) return null;
    left = others;
  }
  return null;
};

type Step = { readonly records: readonly FileRecord[]; readonly reached: Reached };

/** One act, or all rows of one check that stand together. */
const groupAt = (rows: readonly Row[], start: number): readonly Row[] => {
  const first = rows[start];
  if (first?.kind !== 'reading') return rows.slice(start, start + 1);
  let end = start + 1;
  while (rows[end]?.kind === 'reading' && rows[end]?.check === first.check) end += 1;
  return rows.slice(start, end);
};

const checkStep = (rows: readonly Row[], reached: Reached, setting: Setting): Result<Step> => {
  const { file, job } = setting;
  for (const row of rows) {
    const unknown = stationTrouble(row, setting);
    if (unknown !== null) return rowTrouble(file, row, unknown);
  }
  const check = checkOfRows(rows, job, file);
  if (!check.ok) return check;
  const { web_m, pulled_at: time, roll, check: id } = check.value;
  // The line that is told does not hang on the order of the rows either.
  const first = rows.reduce((lowest, row) => (row.line < lowest.line ? row : lowest));
  if (reached.made.has(id))
    return rowTrouble(
      file,
      first,
      `check ${id} is there already, further up; keep the rows of a check together, or withdraw it first`,
    );
  const moved = advance(first, { time, counter_m: web_m, mayBeLate: false }, reached, file);
  if (!moved.ok) return moved;
  const { at_m } = moved.value;
  const record: FileRecord = {
    body: { ...check.value, web_m: at_m },
    at: time,
    by: byOf(rows),
    run: first.run,
    check: id,
    web_m,
    line: first.line,
  };
  return ok({ records: [record], reached: { ...moved.value.reached, roll: roll ?? reached.roll, check: id } });
};

const actStep = (rows: readonly Row[], before: Reached, setting: Setting): Result<Step> => {
  const [row] = rows;
  if (row === undefined) return ok({ records: [], reached: before });
  const reached =
    row.kind === 'counter' && typeof row.value === 'number' ? counterReset(row, row.value, before) : before;
  const moved = advance(
    row,
    { time: row.time, counter_m: row.web_m, mayBeLate: row.kind === 'correction' || row.kind === 'wash' },
    reached,
    setting.file,
  );
  if (!moved.ok) return moved;
  const act = actOfRow(row, { ...setting, at_m: moved.value.at_m, roll: reached.roll, check: reached.check });
  if (!act.ok) return act;
  const records = act.value.map(
    (body): FileRecord => ({
      body,
      at: row.time,
      by: row.by,
      run: row.run,
      check: row.check,
      web_m: row.web_m,
      line: row.line,
    }),
  );
  const offset_m = row.kind === 'counter' && typeof row.value === 'number' ? row.value : reached.offset_m;
  return ok({ records, reached: { ...moved.value.reached, offset_m, roll: row.roll ?? reached.roll } });
};

/** A reset may carry the counter as it stood before it, or as it stands after: whichever does not go back. */
const counterReset = (row: Row, offset_m: number, reached: Reached): Reached => {
  const goesBack = row.web_m !== null && reached.at_m !== null && row.web_m + reached.offset_m < reached.at_m - SLACK_M;
  return goesBack ? { ...reached, offset_m } : reached;
};

type When = { readonly time: string | null; readonly counter_m: number | null; readonly mayBeLate: boolean };

/** Rounding of a counter with an offset added; no check is nearer to another. */
const SLACK_M = 1e-6;

/** Where a row stands in time and on the web, and how far the run has come with it. */
const advance = (
  row: Row,
  { time, counter_m, mayBeLate }: When,
  reached: Reached,
  file: string,
): Result<{ readonly at_m: number; readonly reached: Reached }> => {
  if (time !== null && reached.time !== null && time < reached.time && !mayBeLate)
    return rowTrouble(
      file,
      row,
      `column time: ${time} is before ${reached.time} of the rows above; rows must be in order of time`,
    );
  const at_m = counter_m === null ? reached.at_m : positionOf(counter_m, reached.offset_m);
  const placeless = row.kind === 'note' || row.kind === 'withdraw' || row.kind === 'seen';
  if (at_m === null && !placeless)
    return rowTrouble(file, row, 'column web_m: blank, and no row before gives a web position');
  if (at_m !== null && reached.at_m !== null && at_m < reached.at_m - SLACK_M && !mayBeLate) {
    const why = `column web_m: found ${quoted(counter_m)}, but the web was at ${reached.at_m} m already; rows go forward (a counter that was reset needs a counter row)`;
    return rowTrouble(file, row, why);
  }
  const furthest = at_m === null ? reached.at_m : Math.max(at_m, reached.at_m ?? at_m);
  return ok({ at_m: at_m ?? 0, reached: { ...reached, time: laterOf(time, reached.time), at_m: furthest } });
};

/** To the micrometre: adding an offset leaves crumbs. */
const positionOf = (counter_m: number, offset_m: number): number =>
  offset_m === 0 ? counter_m : Number((counter_m + offset_m).toFixed(6));

const laterOf = (time: string | null, before: string | null): string | null =>
  time === null || (before !== null && before > time) ? before : time;

const byOf = (rows: readonly Row[]): string | null =>
  rows.flatMap(({ by }) => (by === null ? [] : [by])).toSorted()[0] ?? null;
