import type { Block, ReportDocument, Section, Table } from './document.js';
import { escapeHtml } from './escape-html.js';
import { holdNumbers } from './hold-numbers.js';
import { PAGE_STYLE } from './page-style.js';

/** Finished SVG pictures by the id of the section they belong to. */
export type Figures = Readonly<Record<string, readonly string[]>>;

/** A report as one HTML file that needs nothing else: no scripts, no requests (the policy in its head forbids both). */
export const renderHtml = (document: ReportDocument, figures: Figures): string =>
  htmlPage(
    document.title,
    [
      `<header><h1>${shown(document.title)}</h1><p>${shown(document.subtitle)}</p></header>`,
      ...(document.foot === undefined ? [] : [`<p class="foot">${shown(document.foot)}</p>`]),
      `<main>${document.sections.map((section) => sectionHtml(section, figures[section.id] ?? [])).join('\n')}</main>`,
    ].join('\n'),
    document.foot,
  );

/** The frame that every page of ours has; `foot`: at the foot of every printed page, beside its number. */
export const htmlPage = (title: string, body: string, foot?: string): string => `<!doctype html>
<html lang="en" dir="ltr">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">
<link rel="icon" href="data:,">
<title>${escapeHtml(title)}</title>
<style>${PAGE_STYLE}${pageFoot(foot)}</style>
</head>
<body>
${body}
</body>
</html>
`;

/** A string in a style sheet: anything that could end it, or the style, is written as its number. */
const cssText = (text: string): string =>
  [...text].map((c) => (/[\w .,:-]/.test(c) ? c : `\\${c.codePointAt(0)?.toString(16) ?? ''} `)).join('');

const pageFoot = (foot = ''): string =>
  `@page { @bottom-left { content: "${cssText(foot)}"; font: 7pt system-ui, sans-serif; } @bottom-right { content: "Page " counter(page) " of " counter(pages); font: 7pt system-ui, sans-serif; } }\n`;

const sectionHtml = (section: Section, figures: readonly string[]): string =>
  `<section id="${section.id}"${section.ownPage === true ? ' class="own"' : ''} aria-labelledby="${section.id}-h"><h2 id="${section.id}-h">${shown(section.title)}</h2>\n${section.blocks.map(block).join('\n')}${figures.map((svg) => `\n<figure tabindex="0">${svg}</figure>`).join('')}</section>`;

function block(value: Block): string {
  if (value.kind === 'say') return `<p${value.strong ? ' class="strong"' : ''}>${shown(value.text)}</p>`;
  if (value.kind === 'heading') return `<h3>${shown(value.text)}</h3>`;
  if (value.kind === 'list') return `<ul>${value.items.map((item) => `<li>${shown(item)}</li>`).join('')}</ul>`;
  if (value.kind === 'ticks')
    return `<ul class="ticks">${value.items.map((item) => `<li>${shown(item)}</li>`).join('')}</ul>`;
  if (value.kind === 'facts')
    return `<dl>${value.facts.map(({ term, says }) => `<dt>${shown(term)}</dt>${says.map((line) => `<dd>${shown(line)}</dd>`).join('')}`).join('')}</dl>`;
  return table(value);
}

function table(value: Table): string {
  const kind = (column: number): string => (value.columns[column]?.numbers === true ? ' class="n"' : '');
  const head = value.columns.map(({ title }, column) => `<th scope="col"${kind(column)}>${shown(title)}</th>`).join('');
  const rows = value.rows.map(
    (cells) =>
      `<tr>${cells.map((cell, column) => (column === value.head ? `<th scope="row">${shown(cell)}</th>` : `<td${kind(column)}>${shown(cell)}</td>`)).join('')}</tr>`,
  );
  return `<div class="wide" role="region" tabindex="0" aria-label="${escapeHtml(value.caption)}"><table><caption>${shown(value.caption)}</caption><thead><tr>${head}</tr></thead><tbody>${rows.join('')}</tbody></table></div>`;
}

/** Words as they stand in the page: numbers held together, words longer than a line of a phone may break. */
const shown = (text: string): string =>
  holdNumbers(text)
    .split(/(\s+)/)
    .map((word) => (word.match(LONG) ?? [word]).map(escapeHtml).join('<wbr>'))
    .join('');

const LONG = /[\s\S]{1,30}/gu;
