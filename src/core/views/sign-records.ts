import { capital } from '../capital.js';
import type { RecordBody, SignedPage } from '../record.js';
import { fail, ok, type Result } from '../result.js';
import { rollOfSample } from '../run/roll-of-sample.js';
import type { BoardView } from './board-view.js';
import { registerUnitName, signedNumber } from './number-words.js';
import type { SignQuestion, SignSheet } from './sign-sheet.js';

/** One record to write, and in whose name. */
export type Signed = { readonly by: string; readonly body: RecordBody };

/** What both sides said and did; names or initials, no passwords. */
export type Signing = {
  readonly outgoing: string;
  /** Web position when they signed, m; absent = where the view says the web is. */
  readonly web_m?: number;
  readonly answers: readonly { readonly question: SignQuestion; readonly answer: string }[];
  /** null = nobody takes over. */
  readonly incoming: {
    readonly name: string;
    /** One for each point of the cross-check. */
    readonly ticked: readonly boolean[];
    /** Millimetres; null = not read. */
    readonly reread: {
      readonly station: string;
      readonly along_mm: number | null;
      readonly across_mm: number | null;
    } | null;
  } | null;
};

/**
 * The records that a signed handover leaves: a note for each answer, the shift change with the points as they were read and the page they
 * stand on, and then the re-reading as an ordinary check (so that it counts, and changes nothing of what was read back). Nothing is recorded when a name is missing or the same person stands on both sides.
 */
export function signRecords(
  sheet: SignSheet,
  board: BoardView,
  signing: Signing,
  page?: SignedPage,
): Result<readonly Signed[]> {
  const outgoing = signing.outgoing.trim();
  const incoming = signing.incoming === null ? null : { ...signing.incoming, name: signing.incoming.name.trim() };
  if (outgoing === '') return fail('the outgoing operator has no name: give a name or initials; nothing was recorded');
  if (incoming !== null && incoming.name === '')
    return fail(
      'the incoming operator has no name: give a name or initials, or say that nobody takes over; nothing was recorded',
    );
  if (incoming !== null && incoming.name.toLowerCase() === outgoing.toLowerCase())
    return fail(
      `"${outgoing}" stands on both sides: a cross-check needs another person; if nobody takes over, say so; nothing was recorded`,
    );
  const web_m = signing.web_m ?? board.position.web_m ?? 0;
  const notes = signing.answers
    .filter(({ answer }) => answer.trim() !== '')
    .map(
      ({ question, answer }): Signed => ({
        by: outgoing,
        body: { type: 'note', web_m, text: `${question.about}: ${answer.trim()}` },
      }),
    );
  const by = incoming?.name ?? outgoing;
  const reread = incoming?.reread ?? null;
  const read =
    reread !== null && (reread.along_mm !== null || reread.across_mm !== null)
      ? [{ by, body: rereadCheck(board, web_m, reread) }]
      : [];
  return ok([
    ...notes,
    {
      by,
      body: {
        type: 'shift',
        web_m,
        outgoing,
        incoming: incoming?.name ?? null,
        note: noteWords(sheet, board, incoming),
        ...(incoming === null
          ? {}
          : { points: sheet.points.map((text, i) => ({ text, read_back: incoming.ticked[i] === true })) }),
        ...(page === undefined ? {} : { page }),
      },
    },
    ...read,
  ]);
}

type Incoming = NonNullable<Signing['incoming']>;

function rereadCheck(board: BoardView, web_m: number, reread: NonNullable<Incoming['reread']>): RecordBody {
  return {
    type: 'check',
    check: board.next_check_id,
    web_m,
    roll: rollOfSample(board.finished_roll),
    pulled_at: null,
    source: 'keyed',
    place: null,
    readings: [{ ...reread, look: null, edge: null, plate: null, flaws: null, labels: null }],
    note: 'read again at handover',
  };
}

function noteWords({ points, reread }: SignSheet, board: BoardView, incoming: Incoming | null): string | null {
  if (incoming === null) return null;
  const missed = points.filter((_, index) => incoming.ticked[index] !== true);
  const unit = board.units.register;
  const shown = (mm: number | null): string => (mm === null ? 'not read' : signedNumber(mm, unit));
  const again =
    incoming.reread === null
      ? reread === null
        ? 'no station could be read again'
        : `${reread.label} was not read again`
      : `${board.stations.find((station) => station.id === incoming.reread?.station)?.label ?? incoming.reread.station} read again: along ${shown(incoming.reread.along_mm)}, across ${shown(incoming.reread.across_mm)} (${registerUnitName(unit)})`;
  return `Read back ${points.length - missed.length} of ${points.length} points${missed.length === 0 ? '' : `; NOT read back: ${missed.map((point) => point.replace(/\.$/, '')).join(' / ')}`}. ${capital(again)}.`;
}
