import type { HandoverView } from '../core/views/handover-view.js';
import { handoverDocument } from './handover-document.js';
import { renderMarkdown } from './render-markdown.js';

/** The handover as Markdown. */
export const handoverMarkdown = (view: HandoverView): string => renderMarkdown(handoverDocument(view));
