import { jsonWithCodes } from '../core/hidden-characters.js';
import type { RunDigest } from '../core/views/run-digest.js';
import { historyDocument } from './history/history-document.js';
import { pressHistory } from './history/press-history.js';
import { renderHtml } from './render-html.js';
import { renderMarkdown } from './render-markdown.js';
import { renderText } from './render-text.js';

/** History across runs as text for a terminal, as Markdown, as one HTML file, as one JSON document. */
export const historyText = (digests: readonly RunDigest[], width = 78): string =>
  renderText(historyDocument(pressHistory(digests)), Math.max(40, Math.floor(width)));
export const historyMarkdown = (digests: readonly RunDigest[]): string =>
  renderMarkdown(historyDocument(pressHistory(digests)));
export const historyHtml = (digests: readonly RunDigest[]): string =>
  renderHtml(historyDocument(pressHistory(digests)), {});
export const historyJson = (digests: readonly RunDigest[]): string =>
  `${jsonWithCodes({ format: 'history/1', presses: pressHistory(digests) }, 2)}\n`;
