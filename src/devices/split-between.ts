import { pendingBytes } from './pending-bytes.js';
import { HALF_AFTER_MS, KEEP_BYTES, type Splitter, type TakeFramed } from './splitter.js';

export type BetweenOptions = {
  readonly start: string;
  readonly end: string;
  /** Bytes behind the end mark that belong to the message. */
  readonly afterEnd: number;
  readonly maxBytes: number;
};

/**
 * Messages between a start and an end mark. A second start before the end means the first message was cut off: only the last is looked at.
 * Bytes between messages are refused as noise, except line breaks.
 */
export const splitBetween = ({ start, end, afterEnd, maxBytes }: BetweenOptions, take: TakeFramed): Splitter => {
  const pending = pendingBytes();
  let inside = false;
  let noise = '';
  let noiseBytes = 0;
  let lastMs = 0;

  const bad = (why: 'too long' | 'half' | 'form', raw: string, bytes: number): void =>
    take({ kind: 'bad', why, raw: raw.slice(0, KEEP_BYTES), bytes });
  const outside = (text: string): void => {
    if (text === '') return;
    const junk = text.replace(/[\r\n]/g, '');
    noiseBytes += junk.length;
    if (noise.length < KEEP_BYTES) noise += junk.slice(0, KEEP_BYTES);
  };
  const tellNoise = (): void => {
    if (noiseBytes > 0) bad('form', noise, noiseBytes);
    noise = '';
    noiseBytes = 0;
  };
  const stale = (atMs: number): void => {
    if (atMs - lastMs < HALF_AFTER_MS) return;
    if (inside) bad('half', pending.text(), pending.length());
    else outside(pending.text());
    pending.keepLast(0);
    inside = false;
    tellNoise();
  };
  /** The message that begins at `from` and whose end mark stands at `to`; `next` = where the next start mark stands. */
  const message = (text: string, from: number, to: number, next: number): void => {
    const restart = next >= 0 && next < to ? text.lastIndexOf(start, to - 1) : from;
    if (restart > from) bad('half', text.slice(from, restart), restart - from);
    const begin = Math.max(restart, from);
    const bodyEnd = Math.max(to, begin + start.length);
    const bytes = bodyEnd - begin - start.length;
    if (bytes > maxBytes) bad('too long', text.slice(begin, bodyEnd), bytes);
    else
      take({
        kind: 'frame',
        text,
        from: begin + start.length,
        to: bodyEnd,
        trailer: afterEnd === 0 ? '' : text.slice(bodyEnd + end.length, bodyEnd + end.length + afterEnd),
      });
  };

  return {
    push: (chunk, atMs) => {
      stale(atMs);
      lastMs = atMs;
      const text = pending.add(chunk);
      let from = 0;
      let next = -1;
      for (;;) {
        if (!inside) {
          const at = next >= from ? next : text.indexOf(start, from);
          if (at < 0) {
            const keep = Math.min(text.length - from, start.length - 1);
            outside(text.slice(from, text.length - keep));
            pending.keepLast(keep);
            if (noiseBytes > maxBytes) tellNoise();
            return;
          }
          if (at > from) outside(text.slice(from, at));
          if (noiseBytes > 0) tellNoise();
          from = at;
          inside = true;
        }
        const to = text.indexOf(end, from + start.length);
        if (to < 0 || text.length < to + end.length + afterEnd) {
          if (to < 0 && text.length - from > maxBytes + start.length + end.length - 1) {
            bad('too long', text.slice(from, from + KEEP_BYTES), text.length - from);
            inside = false;
            // A start may stand in what is too long: look again behind the first one.
            const again = text.lastIndexOf(start);
            from = again > from && text.length - again <= maxBytes ? again : text.length;
            if (from < text.length) continue;
          }
          pending.keepLast(text.length - from);
          return;
        }
        next = text.indexOf(start, from + start.length);
        message(text, from, to, next);
        from = to + end.length + afterEnd;
        inside = false;
      }
    },
    idle: stale,
    opened: (atMs) => {
      pending.keepLast(0);
      inside = false;
      noise = '';
      noiseBytes = 0;
      lastMs = atMs;
    },
    cut: () => {
      if (inside && pending.length() > 0) bad('half', pending.text(), pending.length());
      pending.keepLast(0);
      inside = false;
      tellNoise();
    },
    held: () => pending.length() + noise.length,
  };
};
