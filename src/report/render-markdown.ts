import type { Block, ReportDocument, Table } from './document.js';
import { escapeMarkdown } from './escape-markdown.js';

/** A report as Markdown that also reads well as it stands. */
export function renderMarkdown(document: ReportDocument): string {
  const parts = [`# ${escapeMarkdown(document.title)}`, escapeMarkdown(document.subtitle)];
  for (const section of document.sections)
    parts.push(`## ${escapeMarkdown(section.title)}`, ...section.blocks.map(block));
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
  const row = (cells: readonly string[]): string => `| ${cells.map(escapeMarkdown).join(' | ')} |`;
  const rule = value.columns.map(({ numbers }) => (numbers ? '---:' : '---'));
  return [
    `**${escapeMarkdown(value.caption)}**`,
    '',
    row(value.columns.map(({ title }) => title)),
    `| ${rule.join(' | ')} |`,
    ...value.rows.map(row),
  ].join('\n');
}
