import type { Axis } from '../../core/axis.js';
import { parseKeyed } from '../../core/reading.js';
import { ok, type Result } from '../../core/result.js';
import type { BoardView, StationView } from '../../core/views/board-view.js';
import { fullWords, NOTE_MOST } from '../form.js';
import type { Keystroke } from '../keystroke.js';
import { arrow, type Cell, cellOrder, isLookCell, walk } from './cells.js';
import { type Draft, isEmptyDraft, rowOf, withRow } from './draft.js';
import { answerFlaw, toFlaw } from './flaw.js';
import { edgeOf, gridView, isGearRow, toggleEdges } from './grid-view.js';
import { openMargins, stepMargins } from './margins.js';
import { parsePlate } from './plate-text.js';

export type GridContext = {
  readonly view: BoardView;
  readonly doubt: (station: string, axis: Axis, mm: number) => string | null;
};

export type GridStep = { readonly draft: Draft; readonly outcome: 'stay' | 'leave' | 'save' };

/** One key in the check grid. Nothing is saved before the whole check is confirmed on the last line. */
export function stepGrid(draft: Draft, key: Keystroke, asked: GridContext): GridStep {
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
      return draft.at === 'save' ? save(draft, context) : stay(forward(draft, draft.at, context));
    case 'tab':
      return stay(draft.at === 'save' ? draft : forward(draft, draft.at, context));
    case 'back-tab':
      return stay({ ...draft, message: null, anew: false, at: walk(context.view, draft.at, -1) });
    case 'backspace':
      return stay(rubOut(draft, context.view));
    case 'up':
    case 'down':
    case 'left':
    case 'right':
      return stay({ ...draft, message: null, anew: false, at: arrow(context.view, draft.at, key.name) });
    case 'home':
      return stay({ ...draft, message: null, anew: false, at: cellOrder(context.view)[0] ?? 'save' });
    case 'end':
      return stay({ ...draft, message: null, anew: false, at: 'save' });
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

function forward(draft: Draft, at: Cell, context: GridContext): Draft {
  const stopped = objection(draft, at, context);
  return stopped ?? { ...draft, message: null, anew: false, at: walk(context.view, at, 1) };
}

/** The draft with the cursor on a field that cannot be taken yet, or is asked about once; null when it can be taken. */
function objection(draft: Draft, at: Cell, context: GridContext): Draft | null {
  const read = checkCell(draft, at, context.view);
  if (!read.ok) return { ...draft, at, message: read.problem.message };
  if (read.value === null || at.cell === 'plate') return null;
  const mark = `${at.station}/${at.cell}=${rowOf(draft, at.station)[at.cell]}`;
  if (draft.asked.includes(mark)) return null;
  const words = context.doubt(edgeOf(at.station, draft).station, at.cell, read.value);
  return words === null
    ? null
    : {
        ...draft,
        at,
        anew: true,
        asked: [...draft.asked, mark],
        message: `${words} Enter keeps it as keyed; or key it anew.`,
      };
}

function save(draft: Draft, context: GridContext): GridStep {
  for (const cell of cellOrder(context.view)) {
    const stopped = objection(draft, cell, context);
    if (stopped !== null) return { draft: stopped, outcome: 'stay' };
  }
  if (isEmptyDraft(draft))
    return {
      draft: { ...draft, message: 'Nothing is keyed yet: l looked, all in; or key a reading; Esc leaves it.' },
      outcome: 'stay',
    };
  return { draft, outcome: 'save' };
}

function rubOut(draft: Draft, view: BoardView): Draft {
  if (draft.at === 'save') return { ...draft, message: null, anew: false, at: walk(view, 'save', -1) };
  const { station, cell } = draft.at;
  const row = rowOf(draft, station);
  if (row[cell] !== '') return withRow(draft, station, { [cell]: row[cell].slice(0, -1) });
  if (row.look !== null && cell !== 'plate') return withRow(draft, station, { look: null });
  return { ...draft, message: null, anew: false, at: walk(view, draft.at, -1) };
}

function stepChar(draft: Draft, char: string, view: BoardView): Draft {
  const low = char.toLowerCase();
  if (low === 'l') return lookedAll(draft, view);
  if (low === 'p') return { ...platesClean(draft, view), at: 'save' };
  if (low === 'w') return { ...platesClean(lookedAll(draft, view, true), view), at: 'save' };
  if (low === 'n') return { ...draft, writing: true, message: null };
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
      [cell]: ((draft.anew === true ? '' : rowOf(draft, station)[cell]) + char.toUpperCase()).slice(0, 12),
    });
  return {
    ...draft,
    message: `"${char}" is not used here: a number and its side, ${cell === 'along' ? 'A ahead, B behind' : 'O operator side, G gear side'}.`,
  };
}

/** A grade letter replaces the grade that was there; digits go on. */
function plateChar(draft: Draft, station: string, char: string): Draft {
  const text = rowOf(draft, station).plate;
  return withRow(draft, station, {
    plate: /[cbd]/.test(char) ? char + text.replace(/^[cbd]/, '') : (text + char).slice(0, 12),
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
