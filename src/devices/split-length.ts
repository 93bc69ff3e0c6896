import { KEEP_BYTES, type Splitter, type TakeFramed } from './splitter.js';

export type LengthOptions = { readonly bytes: number; readonly start: string };

/** A pause this long between two bytes ends whatever came before: fixed-length messages are sent in one go. */
const PAUSE_MS = 200;

/** Messages of a fixed length, found by their start mark when they have one, else by the pause before them. */
export const splitLength = ({ bytes, start }: LengthOptions, take: TakeFramed): Splitter => {
  let pending = '';
  let lastMs = 0;

  const bad = (why: 'half' | 'form', raw: string): void =>
    take({ kind: 'bad', why, raw: raw.slice(0, KEEP_BYTES), bytes: raw.length });
  const stale = (atMs: number): void => {
    if (pending === '' || atMs - lastMs < PAUSE_MS) return;
    bad('half', pending);
    pending = '';
  };

  return {
    push: (chunk, atMs) => {
      stale(atMs);
      lastMs = atMs;
      const text = pending + chunk.toString('latin1');
      let from = 0;
      while (text.length - from >= Math.max(bytes, start.length)) {
        if (start !== '') {
          const at = text.indexOf(start, from);
          const to = at < 0 ? text.length - start.length + 1 : at;
          if (to > from) bad('form', text.slice(from, to));
          from = to;
          if (at < 0 || text.length - from < bytes) break;
        }
        take({ kind: 'frame', text, from: from + start.length, to: from + bytes, trailer: '' });
        from += bytes;
      }
      pending = from === text.length ? '' : text.slice(from);
    },
    idle: stale,
    opened: (atMs) => {
      pending = '';
      lastMs = atMs;
    },
    cut: () => {
      if (pending !== '') bad('half', pending);
      pending = '';
    },
    held: () => pending.length,
  };
};
