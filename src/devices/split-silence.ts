import { KEEP_BYTES, type Splitter, type TakeFramed, wholeMessage } from './splitter.js';

export type SilenceOptions = { readonly gapMs: number; readonly maxBytes: number };

/** Messages told apart by the silence between them. */
export const splitSilence = ({ gapMs, maxBytes }: SilenceOptions, take: TakeFramed): Splitter => {
  let pending = '';
  let tooLong = 0;
  let lastMs = 0;

  const flush = (): void => {
    if (tooLong > 0) take({ kind: 'bad', why: 'too long', raw: pending.slice(0, KEEP_BYTES), bytes: tooLong });
    else if (pending !== '') take({ kind: 'frame', ...wholeMessage(pending) });
    pending = '';
    tooLong = 0;
  };
  const idle = (atMs: number): void => {
    if (atMs - lastMs >= gapMs) flush();
  };

  return {
    push: (chunk, atMs) => {
      idle(atMs);
      lastMs = atMs;
      if (tooLong > 0) tooLong += chunk.length;
      else {
        const length = pending.length + chunk.length;
        pending += chunk.toString('latin1', 0, maxBytes + 1);
        if (length > maxBytes) tooLong = length;
      }
    },
    idle,
    opened: (atMs) => {
      pending = '';
      tooLong = 0;
      lastMs = atMs;
    },
    cut: () => {
      if (pending !== '') take({ kind: 'bad', why: 'half', raw: pending.slice(0, KEEP_BYTES), bytes: pending.length });
      pending = '';
      tooLong = 0;
    },
    held: () => pending.length,
  };
};
