import type { Axis } from '../../core/axis.js';
import { parseKeyed } from '../../core/reading.js';
import type { CheckId } from '../../core/record.js';
import { ok, type Result } from '../../core/result.js';
import type { BoardView, StationView } from '../../core/views/board-view.js';
import { fullWords, NOTE_MOST } from '../form.js';
import type { Keystroke } from '../keystroke.js';
import { arrow, type Cell, cellOrder, isGearRow, isLookCell, walk } from './cells.js';
import { type Draft, isDoubted, isEmptyDraft, markOf, rowOf, withRow } from './draft.js';
import { answerFlaw, askedOf, toFlaw } from './flaw.js';
import { edgeOf, gridView, toggleEdges } from './grid-view.js';
import { openMargins, stepMargins } from './margins.js';
import { parsePlate } from './plate-text.js';
import { toggleLabel } from './second-label.js';

export type GridContext = {
  readonly view: BoardView;
  /** `check`: the sample that is keyed, whose own place decides what of a turn it carries. */
  readonly doubt: (station: string, axis: Axis, mm: number, check?: CheckId) => string | null;
};

export type GridStep = {
  readonly draft: Draft;
  readonly outcome: 'stay' | 'leave' | 'save' | 'throw-away' | 'older' | 'newer';
};

/** One key in the check grid. Nothing is saved before the whole check is confirmed on the last line. */
export function stepGrid(before: Draft, key: Keystroke, asked: GridContext): GridStep {
  const { throwing, ...rest } = before;
  const draft: Draft = throwing === true ? { ...rest, message: null } : before;
  const context: GridContext = { ...asked, view: gridView(asked.view, draft) };
  const stay = (next: Draft): GridStep => ({ draft: next, outcome: 'stay' });
  if (draft.margins !== null) return stay(stepMargins(draft, draft.margins, key, context.view));
  if (draft.writing) return stay(stepNote(draft, key));
  if ('char' in key) return stay(stepChar(draft, key.char, context.view));
  switch (key.name) {
    case 'esc':
    case 'ctrl-c':
      return { draft: { ...draft, message: null }, outcome: 'leave' };
    case 'enter':
      if (throwing === true) return { draft, outcome: 'throw-away' };
      return draft.at === 'save' ? save(draft, context) : stay(forward(draft, draft.at, context));
    case 'tab':
      return stay(draft.at === 'save' ? draft : forward(draft, draft.at, context));
    case 'back-tab':
      return stay(come(draft, walk(context.view, draft.at, -1)));
    case 'backspace':
      return stay(rubOut(draft, context.view));
    case 'up':
    case 'down':
    case 'left':
    case 'right':
      return stay({ ...come(draft, arrow(context.view, draft.at, key.name)), reviewing: false });
    case 'home':
      return stay({ ...come(draft, cellOrder(context.view)[0] ?? 'save'), reviewing: false });
    case 'page-up':
      return { draft, outcome: 'older' };
    case 'page-down':
      return { draft, outcome: 'newer' };
    case 'end':
      return stay({ ...come(draft, 'save'), reviewing: false });
    default:
      return stay(draft);
  }
}

/** What is wrong with a field, if anything. */
export function checkCell(draft: Draft, cell: Cell, view: BoardView): Result<number | null> {
  const text = rowOf(draft, cell.station)[cell.cell];
  if (cell.cell === 'plate') {
    const plate = parsePlate(text);
    return plate.ok ? ok(null) : plate;
  }
  const keyed = parseKeyed(text, view.units.register, cell.cell);
  return keyed.ok ? ok(keyed.value.mm) : keyed;
}

/** Enter in a field: it is taken as keyed and the next one is stood in. What is strange about it is said, and asked once at the end. */
function forward(draft: Draft, at: Cell, context: GridContext): Draft {
  const read = checkCell(draft, at, context.view);
  if (!read.ok) return { ...draft, at, message: read.problem.message };
  const doubt = doubtOf(draft, at, read.value, context);
  const known = doubt === null ? draft : withDoubt(draft, at, doubt);
  const next = draft.reviewing === true ? 'save' : walk(context.view, at, 1);
  if (next === 'save') return toDoubted(known, context) ?? { ...come(known, 'save'), reviewing: false };
  const isNew = doubt !== null && !isDoubted(draft, at.station, at.cell);
  return { ...come(known, next), message: isNew ? `${doubt} It stays as keyed; it is asked again at the end.` : null };
}

/** The words of a doubt about a reading that was not kept already; null = none. */
function doubtOf(draft: Draft, at: Cell, mm: number | null, context: GridContext): string | null {
  if (mm === null || at.cell === 'plate' || draft.asked.includes(markOf(draft, at.station, at.cell))) return null;
  return context.doubt(edgeOf(at.station, draft).station, at.cell, mm, draft.label_of ?? draft.check);
}

const withDoubt = (draft: Draft, at: Cell, words: string): Draft => ({
  ...draft,
  doubted: { ...draft.doubted, [markOf(draft, at.station, at.cell)]: words },
});

/** The first doubted reading that was not asked about yet, with the cursor on it; null = none is left. */
function toDoubted(draft: Draft, context: GridContext): Draft | null {
  for (const cell of cellOrder(context.view)) {
    const read = checkCell(draft, cell, context.view);
    if (!read.ok) return { ...draft, at: cell, anew: false, message: read.problem.message };
    const words = doubtOf(draft, cell, read.value, context);
    if (words === null) continue;
    return {
      ...withDoubt(draft, cell, words),
      at: cell,
      anew: true,
      reviewing: true,
      asked: [...draft.asked, markOf(draft, cell.station, cell.cell)],
      message: `${words} Enter keeps it as keyed; or key it anew.`,
    };
  }
  return null;
}

/** Come to another place: what stands in a field there gives way to what is keyed. */
const come = (draft: Draft, at: Draft['at']): Draft => ({ ...draft, message: null, anew: true, at });

function save(draft: Draft, context: GridContext): GridStep {
  const stopped = toDoubted(draft, context);
  if (stopped !== null) return { draft: stopped, outcome: 'stay' };
  if (isEmptyDraft(draft)) return { draft: { ...draft, message: THROW, throwing: true }, outcome: 'stay' };
  return { draft, outcome: 'save' };
}

const THROW = 'Nothing is keyed: Enter again = not read, sample thrown away; l looked, all in; Esc keeps it.';

function rubOut(draft: Draft, view: BoardView): Draft {
  if (draft.at === 'save') return come(draft, walk(view, 'save', -1));
  const { station, cell } = draft.at;
  const row = rowOf(draft, station);
  if (row[cell] !== '') return withRow(draft, station, { [cell]: draft.anew === true ? '' : row[cell].slice(0, -1) });
  if (row.look !== null && cell !== 'plate') return withRow(draft, station, { look: null });
  return come(draft, walk(view, draft.at, -1));
}

function stepChar(draft: Draft, char: string, view: BoardView): Draft {
  const low = char.toLowerCase();
  if (low === 'l') return lookedAll(draft, view);
  if (low === 'p') return { ...platesClean(draft, view), at: 'save' };
  if (low === 'w') return { ...platesClean(lookedAll(draft, view, true), view), at: 'save' };
  if (low === 'n') return { ...draft, writing: true, message: null };
  if (low === 's' && askedOf(draft) === null) return toggleLabel(draft, view);
  if (low === 'f' && (draft.at === 'save' || draft.at.cell !== 'plate')) return toFlaw(draft, view);
  if (draft.at === 'save') return { ...draft, message: 'Enter saves the check; arrows go back to the fields.' };
  const { station, cell } = draft.at;
  const here = view.stations.find((one) => one.id === station);
  if (here === undefined) return draft;
  if ((low === 'i' || low === 'x') && cell !== 'plate')
    return withRow(draft, station, { look: low === 'i' ? 'in' : 'off' });
  if (low === 'e' && cell !== 'plate' && !isLookCell(here, cell)) return toggleEdges(draft, station);
  if (low === 'm' && here.kind === 'die') return openMargins(draft, station);
  if (cell === 'plate')
    return /[cbd0-9/]/.test(low)
      ? plateChar(draft, station, low)
      : (answerFlaw(draft, station, low) ?? {
          ...draft,
          message: 'Plate: c clean, b building, d dirty; flaws as 3/40.',
        });
  if (isLookCell(here, cell)) return { ...draft, message: `${here.label} is only looked at: i in, x off.` };
  if (/[0-9.,/+\-abog]/.test(low))
    return withRow(draft, station, {
      [cell]: (before(draft, station, cell) + char.toUpperCase()).slice(0, 12),
    });
  return {
    ...draft,
    message: `"${char}" is not used here: a number and its side, ${cell === 'along' ? 'A ahead, B behind' : 'O operator side, G gear side'}.`,
  };
}

/** What a digit is added to: nothing in a field just come to. */
const before = (draft: Draft, station: string, cell: Cell['cell']): string =>
  draft.anew === true ? '' : rowOf(draft, station)[cell];

/** A grade letter replaces the grade that was there; digits go on, in a field just come to after its grade. */
function plateChar(draft: Draft, station: string, char: string): Draft {
  const text = rowOf(draft, station).plate;
  const kept = draft.anew === true ? text.replace(/[^cbd].*$/, '') : text;
  return withRow(draft, station, {
    plate: /[cbd]/.test(char) ? char + text.replace(/^[cbd]/, '') : (kept + char).slice(0, 12),
  });
}

/** Looked, all in: on one key; the same key again takes it back. */
function lookedAll(draft: Draft, view: BoardView, only = false): Draft {
  const looked = view.stations.filter((one) => reads(one));
  const already = looked.every((one) => rowOf(draft, one.id).look === 'in');
  const next = looked.reduce((sum, one) => {
    const row = rowOf(sum, one.id);
    return row.look === 'off' ? sum : withRow(sum, one.id, { look: already && !only ? null : 'in' });
  }, draft);
  return { ...next, at: 'save', message: null };
}

const platesClean = (draft: Draft, view: BoardView): Draft =>
  view.stations
    .filter((one) => one.kind === 'print' && !isGearRow(one.id))
    .reduce((sum, one) => (rowOf(sum, one.id).plate === '' ? withRow(sum, one.id, { plate: 'c' }) : sum), draft);

const reads = (station: StationView): boolean => !station.is_reference && station.read !== 'never';

function stepNote(draft: Draft, key: Keystroke): Draft {
  if ('char' in key)
    return draft.note.length + key.char.length > NOTE_MOST
      ? { ...draft, message: fullWords(NOTE_MOST) }
      : { ...draft, message: null, note: draft.note + key.char };
  if (key.name === 'backspace') return { ...draft, message: null, note: [...draft.note].slice(0, -1).join('') };
  return key.name === 'enter' || key.name === 'tab' || key.name === 'esc' ? { ...draft, writing: false } : draft;
}
