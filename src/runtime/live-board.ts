import type { RunState } from '../core/run/state.js';
import { boardView } from '../core/views/board.js';
import type { BoardView } from '../core/views/board-view.js';

/**
 * The board of a run, worked out anew when the state or the trouble is another, or the second while the web runs. A fault in working it out must
 * not take it away: the last one that could be stays, and says so.
 */
export const liveBoard = (now: () => number): ((state: RunState, trouble: string | null) => BoardView) => {
  let shown: {
    readonly second: number;
    readonly state: RunState;
    readonly trouble: string | null;
    readonly board: BoardView;
  } | null = null;
  let sound: { readonly at: number; readonly board: BoardView } | null = null;

  const anew = (state: RunState, trouble: string | null): BoardView => {
    try {
      sound = { at: now(), board: boardView(state, now()) };
      return { ...sound.board, trouble };
    } catch (error) {
      if (sound === null) throw error;
      const why = error instanceof Error ? error.message : String(error);
      const since = new Date(sound.at).toISOString();
      const fault = `A FAULT in the program: this stands still since ${since}; the log is sound (${why})`;
      return { ...sound.board, trouble: trouble ?? fault };
    }
  };

  return (state, trouble) => {
    const second = Math.floor(now() / 1000);
    if (
      shown === null ||
      shown.state !== state ||
      shown.trouble !== trouble ||
      (shown.second !== second && (state.judged.web.running || state.judged.ok !== null))
    )
      shown = { second, state, trouble, board: anew(state, trouble) };
    return shown.board;
  };
};
