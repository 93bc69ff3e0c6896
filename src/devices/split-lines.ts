import { pendingBytes } from './pending-bytes.js';
import { HALF_AFTER_MS, KEEP_BYTES, QUIET_AFTER_OPEN_MS, type Splitter, type TakeFramed } from './splitter.js';

export type LineOptions = {
  /** Terminator, or 'line-break' for CR, LF or both in any mix. */
  readonly end: string;
  readonly maxBytes: number;
  /** Messages carry a check value, so half a message cannot pass for a whole one. */
  readonly checked: boolean;
};

/**
 * Lines that end at a terminator. Without a check value the first line after opening (and the one after a pause in the middle of a line) is
 * not used, as it may be the tail of another: "12,0.05" cut short reads "2,0.05".
 */
export const splitLines = ({ end, maxBytes, checked }: LineOptions, take: TakeFramed): Splitter => {
  const anyBreak = end === 'line-break';
  const endLength = anyBreak ? 1 : end.length;
  const pending = pendingBytes();
  let dropping: 'too long' | 'half' | null = null;
  let dropped = 0;
  let lastMs = 0;
  let openedMs: number | null = null;

  const bad = (why: 'too long' | 'half', raw: string, bytes: number): void =>
    take({ kind: 'bad', why, raw: raw.slice(0, KEEP_BYTES), bytes });

  const stale = (atMs: number): void => {
    if (pending.length() === 0 || dropping !== null || atMs - lastMs < HALF_AFTER_MS) return;
    bad('half', pending.text(), pending.length());
    pending.keepLast(0);
    if (!checked) dropping = 'half';
  };

  const line = (text: string, from: number, to: number): void => {
    if (dropping !== null) {
      if (dropping === 'half' && (to > from || dropped > 0)) bad('half', text.slice(from, to), dropped + to - from);
      dropping = null;
      dropped = 0;
    } else if (to - from > maxBytes) bad('too long', text.slice(from, to), to - from);
    else if (to > from) take({ kind: 'frame', text, from, to, trailer: '' });
  };

  return {
    push: (chunk, atMs) => {
      if (chunk.length === 0) return;
      if (openedMs !== null) {
        if (!checked && atMs - openedMs < QUIET_AFTER_OPEN_MS) dropping = 'half';
        openedMs = null;
      }
      stale(atMs);
      lastMs = atMs;
      const text = pending.add(chunk);
      let from = 0;
      for (;;) {
        const to = anyBreak ? nextBreak(text, from) : text.indexOf(end, from);
        if (to < 0) break;
        line(text, from, to);
        from = to + endLength;
      }
      const rest = text.length - from;
      if (dropping === null && rest > maxBytes + endLength - 1) {
        bad('too long', text.slice(from, from + KEEP_BYTES), rest);
        dropping = 'too long';
      }
      if (dropping !== null) {
        const keep = Math.min(rest, endLength - 1);
        dropped += rest - keep;
        pending.keepLast(keep);
      } else pending.keepLast(rest);
    },
    idle: stale,
    opened: (atMs) => {
      pending.keepLast(0);
      dropping = null;
      dropped = 0;
      openedMs = atMs;
    },
    cut: () => {
      if (pending.length() > 0 && dropping === null) bad('half', pending.text(), pending.length());
      pending.keepLast(0);
      dropping = null;
      dropped = 0;
    },
    held: pending.length,
  };
};

const nextBreak = (text: string, from: number): number => {
  const lf = text.indexOf('\n', from);
  const cr = text.indexOf('\r', from);
  if (lf < 0) return cr;
  return cr < 0 ? lf : Math.min(lf, cr);
};
