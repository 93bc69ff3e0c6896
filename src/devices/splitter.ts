/** The body of a message as it stands in the bytes at hand, from `from` to before `to` (not copied out), and what stands behind its end mark. */
export type WholeMessage = {
  readonly text: string;
  readonly from: number;
  readonly to: number;
  readonly trailer: string;
};

/** A message that stands by itself. */
export const wholeMessage = (body: string, trailer = ''): WholeMessage => ({
  text: body,
  from: 0,
  to: body.length,
  trailer,
});

/** The body of a message and what stands behind its end mark, copied out. */
export const messageText = ({ text, from, to, trailer }: WholeMessage): string => text.slice(from, to) + trailer;

/** One message cut out of the stream of bytes (one character a byte), or bytes that are none. */
export type Framed =
  | ({ readonly kind: 'frame' } & WholeMessage)
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
