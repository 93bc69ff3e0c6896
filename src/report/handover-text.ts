import type { HandoverView } from '../core/views/handover-view.js';
import { handoverDocument } from './handover-document.js';
import { renderText } from './render-text.js';

/** The handover as plain text for a terminal; narrower than 40 columns it is written for 40. */
export const handoverText = (view: HandoverView, width = 78): string =>
  renderText(handoverDocument(view), Math.max(40, Math.floor(width)));
