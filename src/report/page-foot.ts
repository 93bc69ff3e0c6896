import type { ReportDocument } from './document.js';
import type { Telling } from './telling.js';

/**
 * What stands at the foot of every page: "Handover 3 of run …, signed. Entries: 1 234. Chain: …" (two pages of one run prove each other,
 * `holdreg verify`), and that a run was imported, with the job and press that it came with.
 */
export function pageFoot({ view }: Telling): Pick<ReportDocument, 'foot'> {
  const { paper, board, imported } = view;
  const words = [
    ...(imported === undefined
      ? []
      : [`IMPORTED from ${imported.file}, not run here: job ${board.job}, press ${board.press}.`]),
    ...(paper === undefined
      ? []
      : [
          `Handover ${paper.number} of run ${board.run}, ${paper.signed ? 'signed' : 'not signed'}. Entries: ${paper.entries}. Chain: ${paper.head}`,
        ]),
  ];
  return words.length === 0 ? {} : { foot: words.join(' ') };
}
