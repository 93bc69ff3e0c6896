import type { RunState } from '../core/run/state.js';
import { type ByteChain, CHAIN_START, chainTo } from '../store/byte-chain.js';
import { writeCheckpoint } from '../store/checkpoint.js';
import { programMark } from '../store/program-mark.js';
import type { LogPlace } from '../store/read-log.js';

/** Writes a checkpoint now and then, so that a long run opens fast. Trouble with it is none of the run's. */
export type Checkpoints = {
  /** After each record that is on disk: the state with it, and where the log stands behind it. */
  after(state: RunState, place: LogPlace): void;
  /** On closing, when it would spare the next opening some work. */
  last(): void;
  /** The bytes that the newest one vouches for. */
  chain(): ByteChain;
};

/** So many records are judged anew on opening, at most; that takes a few seconds. */
const EVERY = 2000;
const WORTH = 500;

/** `known`: the chain of the checkpoint the run was opened with; null = there was none. `every`: so many records lie between two, at least. */
export const checkpoints = (folder: string, known: ByteChain | null, every = EVERY): Checkpoints => {
  let chain = known ?? CHAIN_START;
  let latest: { readonly state: RunState; readonly place: LogPlace } | null = null;
  const write = (): void => {
    if (latest === null) return;
    const { state, place } = latest;
    latest = null;
    const chained = chainTo(folder, chain, place);
    if (!chained.ok) return;
    chain = chained.value;
    writeCheckpoint(folder, programMark(), { chain, state });
  };
  return {
    after: (state, place) => {
      latest = { state, place };
      if (place.seq - chain.place.seq >= every) write();
    },
    last: () => {
      if (latest !== null && latest.place.seq - chain.place.seq >= WORTH) write();
    },
    chain: () => chain,
  };
};
