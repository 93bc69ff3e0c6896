import { RECORD_VERSION, type RecordBody } from '../core/record.js';
import { ok, type Result } from '../core/result.js';
import { begin } from '../core/run/begin.js';
import { openRunLog } from '../store/run-log.js';
import { stageRun } from '../store/stage-run.js';
import { withoutControls } from './without-controls.js';

/** Makes a new run with its first record, or nothing at all; answers with its folder. `by`: who opens it; '' = nobody said. */
export const beginRun = async (
  dataDir: string,
  run: string,
  first: RecordBody,
  { at, by }: { readonly at: string; readonly by: string },
): Promise<Result<string>> => {
  const staged = stageRun(dataDir, run);
  if (!staged.ok) return staged;
  const made = await writeFirst(staged.value.folder, first, { at, by: withoutControls(by) || 'program' });
  const published = made.ok ? staged.value.publish() : made;
  if (!published.ok) staged.value.drop();
  return published;
};

const writeFirst = async (
  folder: string,
  first: RecordBody,
  stamp: { readonly at: string; readonly by: string },
): Promise<Result<null>> => {
  const begun = begin({ v: RECORD_VERSION, seq: 1, ...stamp, ...first });
  if (!begun.ok) return begun;
  const opened = openRunLog(folder, () => undefined);
  if (!opened.ok) return opened;
  const wrote = await opened.value.log.append(first, stamp);
  const closed = opened.value.log.close();
  if (!wrote.ok)
    return { ok: false, problem: { ...wrote.problem, message: wrote.problem.message.replaceAll(`${folder}/`, '') } };
  return closed.ok ? ok(null) : closed;
};
