import { ok, type Result } from '../core/result.js';
import type { HandoverView, Paper } from '../core/views/handover-view.js';
import { type ChainRead, readChain } from '../store/record-chain.js';

/** The view with what its page proves: how many entries it was made from, and the chain behind them. `entries` = as many as were told. */
export const withPaper = (folder: string, view: HandoverView, entries: number): Result<HandoverView> => {
  const chain = readChain(folder, new Set([entries]));
  if (!chain.ok) return chain;
  return ok({ ...view, paper: paperOf(view, chain.value, entries) });
};

const paperOf = ({ signed = [] }: HandoverView, chain: ChainRead, entries: number): Paper => {
  const own = signed.find(({ seq }) => seq === entries);
  return {
    number: own?.number ?? signed.length + 1,
    signed: own !== undefined,
    entries,
    head: (entries === chain.entries ? chain.head : chain.heads.get(entries)) ?? '',
  };
};
