/** One message cut out of the stream of bytes (one character a byte), or bytes that are none. */
export type Framed =
  | { readonly kind: 'frame'; readonly body: string; readonly trailer: string }
  | { readonly kind: 'bad'; readonly why: 'too long' | 'half' | 'form'; readonly raw: string; readonly bytes: number };

/**
 * Cuts a stream of bytes into messages and never holds more than the longest message allowed plus the chunk at hand. Times are of a
 * clock that does not jump, ms.
 */
export type Splitter = {
  readonly push: (chunk: Buffer, atMs: number) => void;
  /** Time passes without bytes. */
  readonly idle: (atMs: number) => void;
  /** The line was opened: the first bytes may be the rest of a message. */
  readonly opened: (atMs: number) => void;
  /** The line was cut or a new question is asked: what is pending is half a message. */
  readonly cut: () => void;
  /** Bytes held back now. */
  readonly held: () => number;
};

export type TakeFramed = (framed: Framed) => void;

/** A message that pauses this long in the middle was cut off (Modbus ASCII allows up to 1 s between characters). */
export const HALF_AFTER_MS = 1000;

/** Silence this long after opening means that the first byte to come begins a message. */
export const QUIET_AFTER_OPEN_MS = 100;

/** How many bytes of something refused are kept to be shown. */
export const KEEP_BYTES = 120;
