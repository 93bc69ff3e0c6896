import { hintOf } from '../../practice/hint.js';
import type { Session } from '../../practice/session.js';
import { practiceView } from '../../practice/view.js';
import { drawLoupe, loupeScale, scaleFigures } from '../../ui/practice/loupe.js';

/** What is new since the line before, as plain lines: what was said, the marks of a new label, the hint. PRACTICE heads each. */
export const practiceLines = (before: Session | null, now: Session, ascii: boolean): string => {
  const view = practiceView(now);
  const said = now.said.slice(before === null ? 0 : sharedLength(before, now)).map((s) => s.text);
  const fresh = now.game.sample !== null && now.game.sample !== before?.game.sample;
  const lines = [
    `PRACTICE ${view.title}, ${view.counter}: ${view.phase}`,
    ...said,
    ...(now.page ?? []),
    ...(fresh ? sampleLines(now, ascii) : []),
    ...(now.hints ? hintOf(now) : []),
  ];
  return `${lines.join('\n')}\n\n`;
};

const sharedLength = (before: Session, now: Session): number => {
  const last = before.said.at(-1);
  return last === undefined ? 0 : now.said.lastIndexOf(last) + 1;
};

const sampleLines = ({ game, marks }: Session, ascii: boolean): readonly string[] =>
  (game.sample?.marks ?? []).flatMap((mark) => {
    if (mark.station === game.world.job.reference) return flawLine(mark.station, mark.flaws);
    const { along, across } = mark.mm;
    if (marks === 'numbers')
      return [
        `  ${mark.station}: along ${signed(along)}, across ${signed(across)}`,
        ...flawLine(mark.station, mark.flaws),
      ];
    const scale = loupeScale(along, across);
    const figures = scaleFigures(scale);
    return [
      `Station ${mark.station} against the reference; ${figures.says}`,
      ...drawLoupe(along, across, scale, game.world.press.web_runs === 'left-to-right', ascii).map(
        (row, i) => `${(figures.beside[i] ?? '').padStart(5)}|${row}|`,
      ),
      `      ${figures.under}`,
      ...flawLine(mark.station, mark.flaws),
    ];
  });

const flawLine = (station: string, flaws: number | null): readonly string[] =>
  flaws === null || flaws === 0 ? [] : [`  station ${station}: ${flaws} print flaws in 5 labels`];

const signed = (mm: number): string => (mm > 0 ? `+${mm.toFixed(2)}` : mm.toFixed(2));
