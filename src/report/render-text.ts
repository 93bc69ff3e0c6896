import type { Block, Fact, ReportDocument, Table } from './document.js';
import { textTable } from './text-table.js';
import { textWidth, wrapText } from './wrap-text.js';

/** A report as plain text for a terminal of `width` columns. */
export function renderText(document: ReportDocument, width: number): string {
  const lines = [...wrapText(document.title.toUpperCase(), width), ...wrapText(document.subtitle, width)];
  for (const section of document.sections) {
    const title = section.title.toUpperCase();
    lines.push('', title, '-'.repeat(Math.min(width, textWidth(title))));
    for (const [index, value] of section.blocks.entries()) {
      const before = section.blocks[index - 1]?.kind;
      if (
        before !== undefined &&
        (apart(value.kind) || (before !== 'say' && before !== 'heading' && value.kind === 'say'))
      )
        lines.push('');
      lines.push(...block(value, width));
    }
  }
  if (document.foot !== undefined) lines.push('', ...wrapText(document.foot, width));
  return `${lines.join('\n')}\n`;
}

function block(value: Block, width: number): readonly string[] {
  if (value.kind === 'say' || value.kind === 'heading') return wrapText(value.text, width);
  if (value.kind === 'list') return value.items.flatMap((item) => hung('- ', item, width));
  if (value.kind === 'ticks') return value.items.flatMap((item) => hung('[ ] ', item, width));
  if (value.kind === 'facts') return value.facts.flatMap((fact) => factLines(fact, width));
  return tableLines(value, width);
}

const apart = (kind: Block['kind']): boolean => kind === 'heading' || kind === 'table';

const hung = (mark: string, text: string, width: number): readonly string[] =>
  wrapText(text, width - mark.length).map((line, index) => (index === 0 ? mark : ' '.repeat(mark.length)) + line);

const TERM = 14;

const factLines = ({ term, says }: Fact, width: number): readonly string[] =>
  says.flatMap((line, index) => hung(index === 0 ? `  ${term}`.padEnd(TERM) : ' '.repeat(TERM), line, width));

const tableLines = (value: Table, width: number): readonly string[] => [
  ...wrapText(`${value.caption}:`, width),
  ...textTable(value, width),
];
