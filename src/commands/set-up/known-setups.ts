import type { Job } from '../../core/job.js';
import { readJob } from '../../core/job-file.js';
import { type JobFile, jobSchema } from '../../core/job-schema.js';
import { parseJson } from '../../core/parse-json.js';
import type { Press } from '../../core/press.js';
import { readPress } from '../../core/press-file.js';
import { type PressFile, pressSchema } from '../../core/press-schema.js';
import { ok, type Result } from '../../core/result.js';
import { readText } from '../read-setup.js';

/** A press file as it is now. */
export type KnownPress = {
  readonly path: string;
  readonly used: string;
  readonly file: PressFile;
  readonly press: Press;
};
/** A job file as it is now, read against a press. */
export type KnownJob = { readonly path: string; readonly used: string; readonly file: JobFile; readonly job: Job };

type Listed = { readonly path: string; readonly used: string };

/** A press file, both as written and as read. */
export const knownPress = ({ path, used }: Listed): Result<KnownPress> => {
  const text = readText(path);
  if (!text.ok) return text;
  const press = readPress(text.value, path);
  if (!press.ok) return press;
  const json = parseJson(text.value, path);
  return json.ok ? ok({ path, used, file: pressSchema.parse(json.value), press: press.value }) : json;
};

/** A job file, both as written and as read against its press. */
export const knownJob = ({ path, used }: Listed, press: Press): Result<KnownJob> => {
  const text = readText(path);
  if (!text.ok) return text;
  const job = readJob(text.value, path, press);
  if (!job.ok) return job;
  const json = parseJson(text.value, path);
  return json.ok ? ok({ path, used, file: jobSchema.parse(json.value), job: job.value }) : json;
};

/** Those of a list that can be read now, the last used first, each name once. */
export const readable = <T>(
  list: readonly Listed[],
  read: (one: Listed) => Result<T>,
  nameOf: (one: T) => string,
): readonly T[] => {
  const names = new Set<string>();
  return list.flatMap((one) => {
    const known = read(one);
    if (!known.ok || names.has(nameOf(known.value))) return [];
    names.add(nameOf(known.value));
    return [known.value];
  });
};
