/** One question to the outgoing operator; `about` heads the note that the answer becomes. */
export type SignQuestion = { readonly about: string; readonly ask: string };

/** What both sides go through before they sign a handover; plain words, ready to be asked at a terminal or on the board. */
export type SignSheet = {
  /** To the outgoing operator, at most five; an empty answer records nothing. */
  readonly questions: readonly SignQuestion[];
  /** What the incoming operator reads back aloud and ticks. */
  readonly points: readonly string[];
  /** The one station that is read again, and why that one; null = none can be. */
  readonly reread: { readonly station: string; readonly label: string; readonly why: string } | null;
};
