import { AXES } from '../axis.js';
import type { RunState } from '../run/state.js';
import { labelOf, stationsOf } from '../run/stations.js';
import { listWords } from './event-words.js';

/** Whether OK to run can be given now: every station that is measured has been, on both axes. */
export const okToRun = (state: RunState): { readonly possible: boolean; readonly why: string } => {
  const { judged } = state;
  if (judged.phase === 'ended') return { possible: false, why: 'The run has ended.' };
  const unread = stationsOf(state.press, state.job).flatMap((s) => {
    if (s.read !== 'measure' || s.id === judged.reference) return [];
    const missing = AXES.filter((axis) => judged.read[s.id]?.[axis].mm == null);
    return missing.length === 0 ? [] : [`${labelOf(s)}${missing.length === AXES.length ? '' : ` ${missing[0]}`}`];
  });
  if (unread.length > 0)
    return { possible: false, why: `OK to run needs one full check; not read yet: ${listWords(unread)}.` };
  const check = judged.last_check;
  return {
    possible: true,
    why: check === null ? 'A full check was keyed.' : `Check ${check.check} is full. OK to run asks who passed it.`,
  };
};
