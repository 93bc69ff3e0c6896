import { SAME_SAMPLE_M } from '../../core/run/one-sample.js';
import type { BoardView, LastSample } from '../../core/views/board-view.js';
import { type Draft, firstAsked } from './draft.js';

/**
 * A draft as it is opened: the second label of the sample read last where the board asks for one. `fresh`: opened by c alone, with no sample
 * pulled for it; one that was pulled lies where it was pulled, unless that is beside the sample read last. It can be told otherwise (s).
 */
export function asAsked(draft: Draft, view: BoardView, fresh: boolean): Draft {
  const last = view.last_sample;
  if (last === undefined || view.instruction.read_again.length === 0) return draft;
  const near = draft.web_m - last.web_m <= SAME_SAMPLE_M;
  return near || (fresh && view.next_check?.overdue !== true)
    ? { ...draft, label_of: last.check, at: firstAsked(view) }
    : draft;
}

/** The sample that the draft reads another label of; null = it is a sample of its own. */
export const labelOf = (draft: Pick<Draft, 'label_of'>, view: BoardView): LastSample | null =>
  draft.label_of !== undefined && view.last_sample?.check === draft.label_of ? view.last_sample : null;

/** Another label of the sample read last, or a sample of its own after all. */
export function toggleLabel(draft: Draft, view: BoardView): Draft {
  const { label_of, ...own } = draft;
  const last = view.last_sample;
  if (label_of !== undefined)
    return { ...own, message: `Check ${draft.check} is a sample of its own, where it was pulled.` };
  return last === undefined
    ? { ...draft, message: 'No sample was read yet that this could be another label of.' }
    : { ...draft, label_of: last.check, message: null };
}
