import { bytesToSend } from './bytes-to-send.js';
import type { Profile } from './profile.js';

/** Asks a polled sensor again and again; times in ms of a clock that does not jump. */
export type Asker = {
  /** Called often; asks when it is time. */
  readonly tick: (monoMs: number) => void;
  /** What came in; gives back the bytes that are for the splitter (without the echo of the question). */
  readonly incoming: (chunk: Buffer) => Buffer;
  readonly stop: () => void;
};

export type AskerOptions = {
  readonly profile: Profile;
  readonly write: (bytes: Buffer) => void;
  /** A new question goes out: what was pending belonged to the last one. */
  readonly onAsk: () => void;
  readonly onTimeout: () => void;
  /** Messages understood so far; a question is answered when it grows. */
  readonly answers: () => number;
};

/** One question at a time: the next goes out when the last was answered or timed out, and not before its turn. */
export const createAsker = ({ profile, write, onAsk, onTimeout, answers }: AskerOptions): Asker | null => {
  const { talk } = profile;
  if (talk.mode !== 'poll') return null;
  const command = bytesToSend(talk.command);
  let askedMs: number | null = null;
  let answersThen = 0;
  let waiting = false;
  let echo: Buffer = Buffer.alloc(0);
  let stopped = false;
  return {
    tick: (monoMs) => {
      if (stopped) return;
      if (waiting && askedMs !== null) {
        if (answers() > answersThen) waiting = false;
        else if (monoMs - askedMs < talk.timeout_ms) return;
        else {
          waiting = false;
          onTimeout();
        }
      }
      if (askedMs !== null && monoMs - askedMs < talk.every_ms) return;
      askedMs = monoMs;
      answersThen = answers();
      waiting = true;
      echo = talk.echo ? command : Buffer.alloc(0);
      onAsk();
      write(command);
    },
    incoming: (chunk) => {
      let i = 0;
      while (i < chunk.length && i < echo.length && chunk[i] === echo[i]) i += 1;
      // Whatever differs from the question is no echo: then it is all looked at.
      echo = i < chunk.length ? Buffer.alloc(0) : echo.subarray(i);
      return chunk.subarray(i);
    },
    stop: () => {
      stopped = true;
    },
  };
};
