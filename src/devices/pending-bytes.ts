/** Bytes that wait for the rest of their message. */
export type PendingBytes = {
  /** What waited and a chunk behind it, as one string (one character a byte). */
  readonly add: (chunk: Buffer) => string;
  /** Only the last so many of them go on waiting. */
  readonly keepLast: (bytes: number) => void;
  readonly text: () => string;
  readonly length: () => number;
};

/**
 * The bytes are put together as bytes and made a string at one go: strings put together from pieces are read several times slower, character by
 * character, than one made whole (measured).
 */
export const pendingBytes = (): PendingBytes => {
  let buffer = Buffer.allocUnsafe(1024);
  let length = 0;
  return {
    add: (chunk) => {
      if (length + chunk.length > buffer.length) {
        const larger = Buffer.allocUnsafe(2 * (length + chunk.length));
        buffer.copy(larger, 0, 0, length);
        buffer = larger;
      }
      chunk.copy(buffer, length);
      length += chunk.length;
      return buffer.toString('latin1', 0, length);
    },
    keepLast: (bytes) => {
      if (bytes > 0 && bytes < length) buffer.copyWithin(0, length - bytes, length);
      length = Math.min(bytes, length);
    },
    text: () => buffer.toString('latin1', 0, length),
    length: () => length,
  };
};
