import type { RunState } from '../run/state.js';
import { labelOf, stationsOf } from '../run/stations.js';
import { listWords } from './event-words.js';

/** Whether OK to run can be given now: every station that is measured was, on both axes, by the last full check, and is in tolerance. */
export const okToRun = (state: RunState): { readonly possible: boolean; readonly why: string } => {
  const { judged } = state;
  if (judged.phase === 'ended') return { possible: false, why: 'The run has ended.' };
  const unread = stationsOf(state.press, state.job).filter((s) => {
    const read = judged.read[s.id];
    return s.read === 'measure' && s.id !== judged.reference && (read?.along.mm == null || read.across.mm == null);
  });
  if (unread.length > 0)
    return { possible: false, why: `OK to run needs one full check; not read yet: ${listWords(unread.map(labelOf))}.` };
  const check = judged.last_check;
  return {
    possible: true,
    why: check === null ? 'A full check was keyed.' : `Check ${check.check} is full. OK to run asks who passed it.`,
  };
};
