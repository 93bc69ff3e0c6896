import type { Block, ReportDocument, Table } from './document.js';
import { escapeMarkdown } from './escape-markdown.js';
import { textWidth } from './wrap-text.js';

/** A report as Markdown that also reads well as it stands. */
export function renderMarkdown(document: ReportDocument): string {
  const parts = [`# ${escapeMarkdown(document.title)}`, escapeMarkdown(document.subtitle)];
  for (const section of document.sections)
    parts.push(`## ${escapeMarkdown(section.title)}`, ...section.blocks.map(block));
  if (document.foot !== undefined) parts.push(escapeMarkdown(document.foot));
  return `${parts.join('\n\n')}\n`;
}

function block(value: Block): string {
  if (value.kind === 'say') return value.strong ? `**${escapeMarkdown(value.text)}**` : escapeMarkdown(value.text);
  if (value.kind === 'heading') return `### ${escapeMarkdown(value.text)}`;
  if (value.kind === 'list') return value.items.map((item) => `- ${escapeMarkdown(item)}`).join('\n');
  if (value.kind === 'ticks') return value.items.map((item) => `- [ ] ${escapeMarkdown(item)}`).join('\n');
  if (value.kind === 'facts') return value.facts.flatMap(({ term, says }) => fact(term, says)).join('\n');
  return table(value);
}

const fact = (term: string, says: readonly string[]): readonly string[] =>
  says.length === 1
    ? [`- **${escapeMarkdown(term)}:** ${escapeMarkdown(says[0] ?? '')}`]
    : [`- **${escapeMarkdown(term)}:**`, ...says.map((line) => `  - ${escapeMarkdown(line)}`)];

function table(value: Table): string {
  const cells = [value.columns.map(({ title }) => title), ...value.rows].map((row) => row.map(escapeMarkdown));
  const widths = value.columns.map((_, column) =>
    Math.max(4, ...cells.map((row) => Math.min(WIDEST, textWidth(row[column] ?? '')))),
  );
  const line = (row: readonly string[]): string =>
    `| ${row.map((cell, column) => padded(cell, widths[column] ?? 0, value.columns[column]?.numbers === true)).join(' | ')} |`;
  const rule = value.columns.map(
    ({ numbers }, column) => '-'.repeat((widths[column] ?? 0) - (numbers ? 1 : 0)) + (numbers ? ':' : ''),
  );
  const [titles = [], ...rows] = cells;
  return [`**${escapeMarkdown(value.caption)}**`, '', line(titles), `| ${rule.join(' | ')} |`, ...rows.map(line)].join(
    '\n',
  );
}

/** Wider cells are not lined up. */
const WIDEST = 40;

function padded(cell: string, width: number, right: boolean): string {
  const room = ' '.repeat(Math.max(0, width - textWidth(cell)));
  return right ? room + cell : cell + room;
}
