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
  let pending = '';
  let inside = false;
  let noise = '';
  let noiseBytes = 0;
  let lastMs = 0;

  const bad = (why: 'too long' | 'half' | 'form', raw: string, bytes: number): void =>
    take({ kind: 'bad', why, raw: raw.slice(0, KEEP_BYTES), bytes });
  const outside = (text: string): void => {
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
    if (inside) bad('half', pending, pending.length);
    else outside(pending);
    pending = '';
    inside = false;
    tellNoise();
  };
  const message = (text: string, to: number): void => {
    const restart = text.lastIndexOf(start, to - 1);
    if (restart > 0) bad('half', text.slice(0, restart), restart);
    const raw = text.slice(Math.max(restart, 0), to + end.length + afterEnd);
    const body = raw.slice(start.length, raw.length - end.length - afterEnd);
    if (body.length > maxBytes) bad('too long', raw, raw.length);
    else take({ kind: 'frame', body, trailer: raw.slice(raw.length - afterEnd), raw });
  };

  return {
    push: (chunk, atMs) => {
      stale(atMs);
      lastMs = atMs;
      let text = pending + chunk.toString('latin1');
      for (;;) {
        if (!inside) {
          const at = text.indexOf(start);
          if (at < 0) {
            const keep = Math.min(text.length, start.length - 1);
            outside(text.slice(0, text.length - keep));
            pending = keep === 0 ? '' : text.slice(text.length - keep);
            if (noiseBytes > maxBytes) tellNoise();
            return;
          }
          outside(text.slice(0, at));
          tellNoise();
          text = text.slice(at);
          inside = true;
        }
        const to = text.indexOf(end, start.length);
        if (to < 0 || text.length < to + end.length + afterEnd) {
          if (to < 0 && text.length > maxBytes + start.length + end.length - 1) {
            bad('too long', text, text.length);
            inside = false;
            // A start may stand in what is too long: look again behind the first one.
            const again = text.lastIndexOf(start);
            text = again > 0 && text.length - again <= maxBytes ? text.slice(again) : '';
            if (text !== '') continue;
          }
          pending = text;
          return;
        }
        message(text, to);
        text = text.slice(to + end.length + afterEnd);
        inside = false;
      }
    },
    idle: stale,
    opened: (atMs) => {
      pending = '';
      inside = false;
      noise = '';
      noiseBytes = 0;
      lastMs = atMs;
    },
    cut: () => {
      if (inside && pending !== '') bad('half', pending, pending.length);
      pending = '';
      inside = false;
      tellNoise();
    },
    held: () => pending.length + noise.length,
  };
};
