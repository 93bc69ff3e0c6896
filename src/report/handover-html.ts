import type { HandoverView } from '../core/views/handover-view.js';
import { handoverDocument } from './handover-document.js';
import { handoverFigures } from './handover-figures.js';
import { renderHtml } from './render-html.js';

/** The handover as one self-contained HTML file, with the charts that the view brings. */
export const handoverHtml = (view: HandoverView): string =>
  renderHtml(handoverDocument(view), handoverFigures(view, view.charts ?? []));
