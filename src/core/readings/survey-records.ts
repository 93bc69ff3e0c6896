import type { RecordBody } from '../record.js';
import { recordBodySchema, recordHeadSchema } from '../record-schema.js';
import { fail, ok, type Result } from '../result.js';
import { begunSchema, setupOf } from './begin-schema.js';
import type { RefusedRow } from './read-rows.js';
import type { FileRecord } from './rows-to-records.js';
import type { Survey } from './survey-readings.js';

/**
 * The NDJSON of a whole run, as `holdreg export --format ndjson` writes it: read and checked line by line, nothing taken. The first line is the
 * run's beginning, with the press and job that it came with. Entries are numbered 1, 2, 3 without a gap, for some take others back
 * by their number.
 */
export const surveyRecords = (text: string, file: string): Result<Survey> => {
  const lines = text.split('\n').map((line, index) => ({ line: index + 1, text: line.trim() }));
  const filled = lines.filter((one) => one.text !== '');
  const refused: RefusedRow[] = [];
  const records: FileRecord[] = [];
  let run: string | null = null;
  let setup: Survey['setup'];
  for (const [index, { line, text: json }] of filled.entries()) {
    const read = readLine(json, index);
    if (typeof read === 'string') refused.push({ line, why: read });
    else if ('setup' in read) {
      run = read.run;
      setup = read.setup;
    } else records.push({ ...read, run, line });
  }
  if (filled.length === 0) return fail(`${file}: the file is empty; it should hold the records of a run`, file);
  const runs = [{ run, records: records.map((record) => ({ ...record, run })) }];
  return ok({ runs, refused, ...(setup === undefined ? {} : { setup }) });
};

type Line = Omit<FileRecord, 'run' | 'line'> | { readonly run: string; readonly setup: Survey['setup'] };

const readLine = (json: string, index: number): Line | string => {
  let value: unknown;
  try {
    value = JSON.parse(json);
  } catch {
    return 'it is not JSON';
  }
  const head = recordHeadSchema.safeParse(value);
  if (!head.success) return why(head.error);
  const { v: _v, seq, at, by, ...body } = value as Readonly<Record<string, unknown>>;
  if (seq !== index + 1) return `it is entry ${String(seq)}, but entry ${index + 1} should stand here`;
  if (index === 0) {
    if (body.type !== 'begin') return 'the first record of a run is its beginning (type "begin")';
    const begun = begunSchema.safeParse(body);
    return begun.success ? { run: begun.data.run, setup: setupOf(begun.data) } : why(begun.error);
  }
  const checked = recordBodySchema.safeParse(body);
  if (!checked.success) return why(checked.error);
  // As it was written, key by key: what was exported comes out the same again.
  const record = body as RecordBody;
  return {
    body: record,
    at: String(at),
    by: String(by),
    check: 'check' in record ? record.check : null,
    web_m: 'web_m' in record ? record.web_m : null,
  };
};

type Issues = { readonly issues: readonly { readonly path: readonly PropertyKey[]; readonly message: string }[] };

const why = ({ issues }: Issues): string => {
  const [first] = issues;
  return first === undefined ? 'it is no record' : `${first.path.map(String).join('.') || 'record'}: ${first.message}`;
};
