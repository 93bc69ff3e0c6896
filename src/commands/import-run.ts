import type { FileRecord } from '../core/readings/rows-to-records.js';
import type { RecordBody } from '../core/record.js';
import { fail, ok, type Result } from '../core/result.js';
import { RULES } from '../core/run/begin.js';
import { openRun } from '../runtime.js';
import { createRun, runFolder } from '../store/run-folder.js';
import { version } from '../version.js';
import type { ImportOptions, Target } from './import.js';

/** Submitted together, so that they share the disk's time. */
const BATCH = 256;

/** Writes one run of a file that was found good; entries carry the times of the file. Without an `ok` row the file begins after OK to run. */
export const importRun = async (
  { id, isNew, whole, state, run }: Target,
  options: Pick<ImportOptions, 'data' | 'by'>,
): Promise<Result<null>> => {
  const folder = isNew ? createRun(options.data, id) : runFolder(options.data, id);
  if (!folder.ok) return folder;
  const now = Date.now();
  const timed = withTimes(run.records, isNew ? (run.records.find((r) => r.at !== null)?.at ?? iso(now)) : iso(now));
  const begun = Date.parse(timed[0]?.at ?? iso(now));
  const { press, job, time_zone } = state;
  const opened = await openRun(folder.value, {
    operator: options.by ?? '',
    ...(isNew
      ? {
          now: () => begun,
          first: { type: 'begin', run: id, press, job, rules: RULES, program: version(), time_zone } as const,
        }
      : {}),
  });
  if (!opened.ok) return opened;
  const runtime = opened.value;
  try {
    if (runtime.readOnly !== null)
      return fail(`run ${id} is ${runtime.readOnly}; close it there first. Nothing was imported`);
    const bodies = isNew && !whole ? passedBefore(timed) : timed;
    for (let from = 0; from < bodies.length; from += BATCH) {
      const batch = bodies.slice(from, from + BATCH);
      const wrote = await Promise.all(
        batch.map(({ body, at, by }) => runtime.submit(body, { at, by: by ?? options.by ?? 'file', soon: true })),
      );
      const bad = wrote.findIndex((one) => !one.ok);
      const problem = wrote[bad];
      if (problem !== undefined && !problem.ok)
        return fail(
          `${problem.problem.message} Line ${batch[bad]?.line}: the ${from + bad} entries before it are in run ${id}.`,
        );
    }
    return ok(null);
  } finally {
    await runtime.close();
  }
};

type Timed = {
  readonly body: RecordBody;
  readonly at: string;
  readonly by: string | null;
  readonly line: number;
};

/** A row without a time has that of the row before it. */
const withTimes = (records: readonly FileRecord[], first: string): readonly Timed[] => {
  let at = first;
  return records.map((record) => {
    at = record.at ?? at;
    return { body: record.body, at, by: record.by, line: record.line };
  });
};

const passedBefore = (timed: readonly Timed[]): readonly Timed[] => {
  const first = timed[0];
  if (first === undefined || timed.some(({ body }) => body.type === 'ok')) return timed;
  const web_m = Math.min(0, 'web_m' in first.body ? (first.body.web_m ?? 0) : 0);
  const body: RecordBody = {
    type: 'ok',
    web_m,
    zero_m: null,
    passed_by: 'before the file',
    check: null,
    hold_to: 'aim',
  };
  return [{ body, at: first.at, by: 'program', line: first.line }, ...timed];
};

const iso = (ms: number): string => new Date(ms).toISOString();
