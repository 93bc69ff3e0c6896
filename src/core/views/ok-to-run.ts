import { AXES } from '../axis.js';
import type { RunState } from '../run/state.js';
import { labelOf, stationsOf } from '../run/stations.js';
import { listWords } from './event-words.js';

/** Whether OK to run can be given now: every station that is measured has been, on both axes. */
export const okToRun = (state: RunState): { readonly possible: boolean; readonly why: string } => {
  const { judged } = state;
  if (judged.phase === 'ended') return { possible: false, why: 'The run has ended.' };
  const stations = stationsOf(state.press, state.job).filter((s) => s.read === 'measure' && s.id !== judged.reference);
  const unread = stations.flatMap((s) => {
    const missing = AXES.filter((axis) => judged.read[s.id]?.[axis].mm == null);
    return missing.length === 0 ? [] : [`${labelOf(s)}${missing.length === AXES.length ? '' : ` ${missing[0]}`}`];
  });
  if (unread.length > 0)
    return { possible: false, why: `OK to run needs one full check; not read yet: ${listWords(unread)}.` };
  const last = judged.last_check?.check ?? null;
  const checks = stations.flatMap((s) => AXES.map((axis) => judged.read[s.id]?.[axis].check ?? null));
  // Each has been read, but what is keyed in parts, or read again in part, is no full check for that.
  const full = last !== null && checks.every((check) => check === last);
  return {
    possible: true,
    why: `${full ? `Check ${last} is full.` : 'Every station was read, not all on the last check.'} OK to run asks who passed it.`,
  };
};
