import type { Game } from './game.js';

/** What the student read of one station; null = not read. */
export type Read = { readonly along_mm: number | null; readonly across_mm: number | null };

export type Said = { readonly text: string; readonly tone: 'plain' | 'done' | 'refused' };

/** A student at the practice press: the game, what was read so far, what was said. */
export type Session = {
  readonly game: Game;
  /** Marks drawn under the loupe, or numbers that are keyed by themselves. */
  readonly marks: 'drawn' | 'numbers';
  readonly hints: boolean;
  /** The station under the loupe. */
  readonly looking: string;
  readonly reads: Readonly<Record<string, Read>>;
  readonly said: readonly Said[];
  /** A page laid over the screen until the next line; null = none. */
  readonly page: readonly string[] | null;
  readonly refusals: number;
  readonly paused: boolean;
};
