import type { Profile } from './profile.js';
import { splitBetween } from './split-between.js';
import { splitLength } from './split-length.js';
import { splitLines } from './split-lines.js';
import { splitSilence } from './split-silence.js';
import type { Splitter, TakeFramed } from './splitter.js';

/** The splitter a profile asks for. */
export const splitterFor = (profile: Pick<Profile, 'frame' | 'checksum' | 'talk'>, take: TakeFramed): Splitter => {
  const { frame } = profile;
  switch (frame.kind) {
    case 'line':
      // An answer to our own question begins at its beginning, so only what comes unasked needs the check value to prove it whole.
      return splitLines(
        {
          end: frame.end,
          maxBytes: frame.max_bytes,
          checked: profile.checksum !== undefined || profile.talk.mode === 'poll',
        },
        take,
      );
    case 'between':
      return splitBetween(
        { start: frame.start, end: frame.end, afterEnd: frame.after_end, maxBytes: frame.max_bytes },
        take,
      );
    case 'length':
      return splitLength({ bytes: frame.bytes, start: frame.start ?? '' }, take);
    case 'silence':
      return splitSilence({ gapMs: frame.gap_ms, maxBytes: frame.max_bytes }, take);
  }
};
