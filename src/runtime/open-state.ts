import { fail, ok, type Result } from '../core/result.js';
import type { RunState } from '../core/run/state.js';
import type { ByteChain } from '../store/byte-chain.js';
import { dropCheckpoint, readCheckpoint } from '../store/checkpoint.js';
import type { Disk } from '../store/disk.js';
import { logShare } from '../store/log-share.js';
import { programMark } from '../store/program-mark.js';
import { LOG_START, type LogPlace, readLog } from '../store/read-log.js';
import { openRunLog, type RunLog } from '../store/run-log.js';
import { checkpoints } from './checkpoints.js';
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

export type OpenStateOptions = {
  readonly disk?: Disk;
  /** Hears how much of the log has been read, 0 to 1, a few times a second. */
  readonly progress?: (share: number) => void;
};

/**
 * Works a run out of its log: from its checkpoint on, when the log bears that out, else from its first record. Whoever may write leaves a checkpoint now and
 * then on the way, so that what is ended before it is through (by an impatient hand, by power) goes on from there the next time.
 */
export const openState = (
  folder: string,
  mode: 'write' | 'look',
  { disk, progress }: OpenStateOptions = {},
): Result<OpenedState> => {
  const found = readCheckpoint(folder, programMark());
  const checkpoint = found.ok ? found.value : null;
  // Another version's is nothing to speak of.
  const thrown = found.ok || found.problem.code === 'other-version' ? null : shortReason(found.problem);
  if (!found.ok && mode === 'write') dropCheckpoint(folder);
  const { take, state, broken } = foldRecords(folder, checkpoint?.state ?? null);
  const from = checkpoint?.chain.place ?? LOG_START;
  const kept = mode === 'write' ? checkpoints(folder, checkpoint?.chain ?? null, ON_THE_WAY) : null;
  const share = progress === undefined ? null : logShare(folder);
  const behind = (place: LogPlace): void => {
    const now = state();
    if (now?.seq === place.seq) kept?.after(now, place);
    if (share !== null) progress?.(share(place));
  };
  const opened = mode === 'write' ? openRunLog(folder, take, disk === undefined ? {} : { disk }, from, behind) : null;
  const end = opened === null ? readLog(folder, take, from, behind) : opened;
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
    chain: kept !== null && kept.chain().place.seq > 0 ? kept.chain() : (checkpoint?.chain ?? null),
    said: [repaired, thrown].filter((words) => words !== null).join('. ') || null,
  });
};

/** One costs some hundredth of a second, so many records up to twenty. */
const ON_THE_WAY = 20_000;
