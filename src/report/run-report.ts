import type { HandoverView } from '../core/views/handover-view.js';
import type { ReportDocument } from './document.js';
import { handoverDocument } from './handover-document.js';
import { handoverFigures } from './handover-figures.js';
import { renderHtml } from './render-html.js';
import { renderMarkdown } from './render-markdown.js';
import { renderText } from './render-text.js';
import { capability } from './run/capability.js';
import { habits } from './run/habits.js';
import { nextRun } from './run/next-run.js';
import { product } from './run/product.js';
import { shortenCells } from './shorten.js';
import { tellingOf } from './telling.js';

/** The report of a whole run: the handover over all of it, with what only a whole run can say put after the first thirty seconds. */
export function runReportDocument(view: HandoverView): ReportDocument {
  const base = handoverDocument(view);
  const plain = tellingOf(view);
  const telling = { ...plain, view: { ...plain.view, charts: view.charts ?? [] } };
  const own = [product, capability, habits, nextRun].map((section) => shortenCells(section(telling)));
  const [first, ...rest] = base.sections;
  return {
    ...base,
    title: base.title.replace(/^Handover:/, 'Run report:'),
    sections: [...(first === undefined ? [] : [first]), ...own, ...rest],
  };
}

export { runReportJson } from './run-report-json.js';

export const runReportMarkdown = (view: HandoverView): string => renderMarkdown(runReportDocument(view));
export const runReportText = (view: HandoverView, width = 78): string =>
  renderText(runReportDocument(view), Math.max(40, Math.floor(width)));
export const runReportHtml = (view: HandoverView): string =>
  renderHtml(runReportDocument(view), handoverFigures(view, view.charts ?? []));
