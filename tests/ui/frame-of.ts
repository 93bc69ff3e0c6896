import type { BoardView } from '../../src/core/views/board-view.js';
import { plainText } from '../../src/ui/draw/row.js';
import { drawFrame, type FrameModel } from '../../src/ui/frame.js';
import { initialScreen, type Screen } from '../../src/ui/screen.js';
import type { Look } from '../../src/ui/theme.js';
import { chart } from './fixtures.js';

export const look: Look = { ascii: false, color: false, decimal: '.' };
export const ascii: Look = { ...look, ascii: true };

export const NOW = Date.parse('2026-11-24T13:20:00.000Z');

export const modelOf = (view: BoardView, columns = 80, rows = 24, over: Partial<FrameModel> = {}): FrameModel => ({
  view,
  screen: initialScreen(NOW, false),
  chart: (station, axis, window) => chart(station, axis, window),
  columns,
  rows,
  look,
  clock: '13:20',
  nowMs: NOW,
  operator: 'Anna',
  readOnly: null,
  ...over,
});

/** A frame as the terminal would show it, without trailing blanks. */
export const frameText = (view: BoardView, columns = 80, rows = 24, over: Partial<FrameModel> = {}): string =>
  drawFrame(modelOf(view, columns, rows, over))
    .map((line) => plainText(line).trimEnd())
    .join('\n')
    .trimEnd();

export const screenWith = (over: Partial<Screen>): Screen => ({ ...initialScreen(NOW, false), ...over });
