import { jsonWithCodes } from '../../core/hidden-characters.js';
import type { Truth } from '../../practice/truth.js';
import { renderHtml } from '../../report/render-html.js';
import { renderMarkdown } from '../../report/render-markdown.js';
import { renderText } from '../../report/render-text.js';
import type { PageFormat } from './options.js';
import { truthDocument } from './truth-document.js';

/** A student's page in one of the handover's formats. */
export const truthPage = (truth: Truth, student: string, at: string, format: PageFormat, width = 78): string => {
  switch (format) {
    case 'json':
      return `${jsonWithCodes({ format: 'practice-result/1', practice: true, student, at, ...truth }, 2)}\n`;
    case 'html':
      return renderHtml(truthDocument(truth, student, at), {});
    case 'md':
      return renderMarkdown(truthDocument(truth, student, at));
    case 'txt':
      return renderText(truthDocument(truth, student, at), width);
  }
};
