import type { HandoverView, HoldSpan } from '../core/views/handover-view.js';
import { isOpenHold } from '../core/views/hold-views.js';

/** Held product that still waits for somebody; what was released, reworked or scrapped whole is left out. */
export const openHolds = (view: Pick<HandoverView, 'holds'>): readonly HoldSpan[] => view.holds.filter(isOpenHold);
