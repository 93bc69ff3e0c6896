import type { HandoverView } from './handover-view.js';

/** Metres of product that are or were held; what is still going on counts to where the web stands. */
export const heldMetres = ({ holds, board }: Pick<HandoverView, 'holds' | 'board'>): number =>
  holds.reduce((sum, hold) => sum + Math.max(0, (hold.to_m ?? board.position.web_m ?? hold.from_m) - hold.from_m), 0);
