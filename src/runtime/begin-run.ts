import { RECORD_VERSION, type RecordBody } from '../core/record.js';
import { fail, ok, type Result } from '../core/result.js';
import { begin } from '../core/run/begin.js';
import { openRunLog } from '../store/run-log.js';
import { stageRun } from '../store/stage-run.js';

/** Makes a new run with its first record, or nothing at all; answers with its folder. */
export const beginRun = async (
  dataDir: string,
  run: string,
  first: RecordBody,
  at: string,
): Promise<Result<string>> => {
  const staged = stageRun(dataDir, run);
  if (!staged.ok) return staged;
  const made = await writeFirst(staged.value.folder, first, at);
  const published = made.ok ? staged.value.publish() : made;
  if (!published.ok) staged.value.drop();
  return published;
};

const writeFirst = async (folder: string, first: RecordBody, at: string): Promise<Result<null>> => {
  const begun = begin({ v: RECORD_VERSION, seq: 1, at, by: 'program', ...first });
  if (!begun.ok) return begun;
  const opened = openRunLog(folder, () => undefined);
  if (!opened.ok) return opened;
  const wrote = await opened.value.log.append(first, { at, by: 'program' });
  const closed = opened.value.log.close();
  if (!wrote.ok)
    return { ok: false, problem: { ...wrote.problem, message: wrote.problem.message.replaceAll(`${folder}/`, '') } };
  return closed.ok ? ok(null) : closed;
};
