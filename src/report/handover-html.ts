import type { ChartView } from '../core/views/chart-view.js';
import type { HandoverView } from '../core/views/handover-view.js';
import { handoverDocument } from './handover-document.js';
import { handoverFigures } from './handover-figures.js';
import { renderHtml } from './render-html.js';

/** The handover as one self-contained HTML file with its charts; `charts` of every station and axis, as far as there are any. */
export const handoverHtml = (view: HandoverView, charts: readonly ChartView[] = []): string =>
  renderHtml(handoverDocument(view), handoverFigures(view, charts));
