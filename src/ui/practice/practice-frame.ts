import { cutRow, fitRows, type Row, row, run, type Style, spread, wrapWords } from '../draw/row.js';
import type { Look } from '../theme.js';
import { drawLoupe, LOUPE, loupeScale, scaleFigures } from './loupe.js';
import type { PracticeScreenView } from './practice-port.js';

/** The least a practice screen needs. */
export const LEAST_PRACTICE = { columns: 80, rows: 24 } as const;

/** The whole practice screen as rows; PRACTICE stands on every one. */
export const practiceFrame = (
  view: PracticeScreenView,
  typed: string,
  columns: number,
  rows: number,
  look: Look,
): readonly Row[] => {
  const banner: Row = spread(
    [run(' PRACTICE ', 'note'), run(` ${view.title}`, 'strong')],
    [run(`${view.counter} `)],
    columns,
  );
  if (columns < LEAST_PRACTICE.columns || rows < LEAST_PRACTICE.rows)
    return fitRows(
      [
        banner,
        row(
          `This terminal is ${columns} by ${rows}; practice needs ${LEAST_PRACTICE.columns} by ${LEAST_PRACTICE.rows}.`,
        ),
        ...wrapWords(view.hint.join(' '), columns).map((line) => row(line)),
      ],
      columns,
      rows,
    );
  const foot = footRows(view, typed, columns, look);
  if (view.page !== null) return pageFrame(view.page, banner, foot, columns, rows);
  const left = loupeRows(view, look);
  const right = sideRows(view, columns - LEFT - 2, left.length);
  const middle = left.map((line, i): Row => [...padded(line, LEFT), run('  '), ...(right[i] ?? [])]);
  const room = Math.max(2, rows - 2 - middle.length - foot.length);
  return fitRows(
    [
      banner,
      row(` ${view.phase}`, view.stopped ? 'act' : 'plain'),
      ...middle,
      ...saidRows(view, columns, room),
      ...foot,
    ],
    columns,
    rows,
  );
};

const pageFrame = (
  page: readonly string[],
  banner: Row,
  foot: readonly Row[],
  columns: number,
  rows: number,
): readonly Row[] => {
  const lines = page.flatMap((one) =>
    wrapWords(one.trimStart(), columns - 5).map((text, i) =>
      row(`${one.startsWith(' ') ? '  ' : ' '}${i === 0 ? '' : '   '}${text}`),
    ),
  );
  return fitRows([banner, ...fitRows(lines, columns, rows - foot.length - 1), ...foot], columns, rows);
};

/** Figures, border, field, border. */
const LEFT = LOUPE.width + 6;

const loupeRows = (view: PracticeScreenView, look: Look): readonly Row[] => {
  const bar = look.ascii ? '|' : '│';
  const line = (look.ascii ? '-' : '─').repeat(LOUPE.width);
  const [tl, tr, bl, br] = look.ascii ? ['+', '+', '+', '+'] : ['┌', '┐', '└', '┘'];
  const { loupe } = view;
  const scale = loupeScale(loupe?.mm.along ?? 0, loupe?.mm.across ?? 0);
  const figures = scaleFigures(scale);
  const right = view.web_runs === 'left-to-right';
  const field =
    loupe === null
      ? Array.from({ length: LOUPE.height }, (_, i) =>
          (i === 6 ? 'no sample yet: pull'.padStart(23) : '').padEnd(LOUPE.width),
        )
      : drawLoupe(loupe.mm.along, loupe.mm.across, scale, right, look.ascii);
  const sides = right ? ['behind', 'ahead'] : ['ahead', 'behind'];
  const arrows = look.ascii ? ['<', '>'] : ['◂', '▸'];
  return [
    row(`${''.padStart(4)}${tl}${titled(`gear side`, line)}${tr}`),
    ...field.map(
      (text, i): Row => [run(`${(figures.beside[i] ?? '').padStart(4)}${bar}`), run(text, 'strong'), run(bar)],
    ),
    row(`${''.padStart(4)}${bl}${titled('operator side', line)}${br}`),
    row(`${''.padStart(5)}${figures.under}`),
    row(
      `${''.padStart(5)}${arrows[0]} ${sides[0]}${`${sides[1]} ${arrows[1]}`.padStart(LOUPE.width - 2 - (sides[0]?.length ?? 0))}`,
    ),
  ];
};

const titled = (title: string, line: string): string => {
  const from = Math.floor((line.length - title.length - 2) / 2);
  return `${line.slice(0, from)} ${title} ${line.slice(from + title.length + 2)}`;
};

const sideRows = (view: PracticeScreenView, width: number, height: number): readonly Row[] => {
  const scale = loupeScale(view.loupe?.mm.along ?? 0, view.loupe?.mm.across ?? 0);
  const lines: Row[] = [
    [run(view.loupe === null ? 'Loupe' : `Loupe: ${view.loupe.label}`, 'strong'), run(`  ${view.sample}`)],
    row(view.loupe === null ? '' : `${scaleFigures(scale).says}`),
    row(`  ${'station'.padEnd(15)}${'along'.padEnd(12)}${'across'.padEnd(14)}`.slice(0, width)),
    ...view.stations.map(
      (s): Row => [
        run(
          `${s.looked ? '> ' : '  '}${s.label.slice(0, 14).padEnd(15)}${s.along.padEnd(12)}${s.across.replace(' SIDE', '').padEnd(14)}`,
          s.looked ? 'strong' : 'plain',
        ),
      ],
    ),
    row(flawWords(view)),
    ...view.hint.flatMap((one) => wrapWords(one, width)).map((line) => row(line)),
  ];
  return fitRows(lines, width, height);
};

/** Print flaws counted on the labels looked at: a plate that fills in shows here first. */
const flawWords = (view: PracticeScreenView): string => {
  const found = view.stations.filter((s) => s.flaws !== '' && s.flaws !== '0');
  if (view.loupe === null) return '';
  return found.length === 0
    ? '  no print flaws'
    : `  print flaws in 5 labels: ${found.map((s) => `${s.label} ${s.flaws}`).join(', ')}`;
};

const STYLE: Readonly<Record<PracticeScreenView['said'][number]['tone'], Style>> = {
  plain: 'plain',
  done: 'plain',
  refused: 'act',
};

const saidRows = (view: PracticeScreenView, columns: number, room: number): readonly Row[] => {
  const lines = view.said.flatMap((one) =>
    wrapWords(one.text.trimStart(), columns - 4).map(
      (text, i): Row => [
        run(i === 0 ? (one.text.startsWith('  ') ? '    ' : ' · ') : '   '),
        run(text, STYLE[one.tone]),
      ],
    ),
  );
  return fitRows(lines.slice(-room), columns, room);
};

const footRows = (view: PracticeScreenView, typed: string, columns: number, look: Look): readonly Row[] => [
  row((look.ascii ? '-' : '─').repeat(columns)),
  row(
    view.ended
      ? ' Enter: the truth of this exercise'
      : ' pull  read 12A 5O  key  turn 2 retard 5  wait  next  ok  name  help  end',
  ),
  cutRow([run(' > ', 'strong'), run(typed), run(look.ascii ? '_' : '▏')], columns),
];

const padded = (line: Row, width: number): Row => {
  const have = line.reduce((sum, one) => sum + one.text.length, 0);
  return have >= width ? line : [...line, run(' '.repeat(width - have))];
};
