import { fail, ok, type Result } from '../core/result.js';
import type { RunState } from '../core/run/state.js';
import type { ByteChain } from '../store/byte-chain.js';
import { dropCheckpoint, readCheckpoint } from '../store/checkpoint.js';
import type { Disk } from '../store/disk.js';
import { programMark } from '../store/program-mark.js';
import { LOG_START, type LogPlace, readLog } from '../store/read-log.js';
import { openRunLog, type RunLog } from '../store/run-log.js';
import { foldRecords } from './fold-records.js';
import { shortReason } from './short-reason.js';

/** A run as its log tells it. `log` null = only read. */
export type OpenedState = {
  readonly state: RunState | null;
  readonly log: RunLog | null;
  /** Where reading on would begin. */
  readonly place: LogPlace;
  /** Bytes that a checkpoint vouches for; null = none was used. */
  readonly chain: ByteChain | null;
  /** What was repaired or thrown away, in words. */
  readonly said: string | null;
};

/** Works a run out of its log: from its checkpoint on, when the log bears that out, else from its first record. */
export const openState = (folder: string, mode: 'write' | 'look', disk?: Disk): Result<OpenedState> => {
  const found = readCheckpoint(folder, programMark());
  const checkpoint = found.ok ? found.value : null;
  // Another version's is nothing to speak of.
  const thrown = found.ok || found.problem.code === 'other-version' ? null : shortReason(found.problem);
  if (!found.ok && mode === 'write') dropCheckpoint(folder);
  const { take, state, broken } = foldRecords(folder, checkpoint?.state ?? null);
  const from = checkpoint?.chain.place ?? LOG_START;
  const opened = mode === 'write' ? openRunLog(folder, take, disk === undefined ? {} : { disk }, from) : null;
  const end = opened === null ? readLog(folder, take, from) : opened;
  if (!end.ok) return end;
  const unfit = broken();
  if (unfit !== null) {
    if (opened?.ok === true) opened.value.log.close();
    return fail(unfit, folder);
  }
  const log = opened?.ok === true ? opened.value.log : null;
  const repaired = opened?.ok === true ? opened.value.repaired : null;
  return ok({
    state: state(),
    log,
    place: 'log' in end.value ? end.value.end.place : end.value.place,
    chain: checkpoint?.chain ?? null,
    said: [repaired, thrown].filter((words) => words !== null).join('. ') || null,
  });
};
