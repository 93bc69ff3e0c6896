import type { RecordBody } from '../../src/core/record.js';
import type { RunState } from '../../src/core/run/state.js';
import { gatherer } from '../../src/core/views/gather.js';
import { handoverView } from '../../src/core/views/handover.js';
import type { HandoverView } from '../../src/core/views/handover-view.js';
import { type TryRun, tryRun } from './try-run.js';

/** The handover as the program makes it: every record and what it made known, gathered. */
export const handoverOf = (
  steps: (run: TryRun) => void,
  options: Parameters<typeof tryRun>[0] = {},
): { readonly view: HandoverView; readonly state: RunState } => {
  const run = tryRun(options);
  const gathering = gatherer();
  let seen = 0;
  const take = (found: ReturnType<TryRun['put']>): void => {
    const record = run.records.at(-1);
    if (record !== undefined && run.records.length > seen) gathering.take(record, found);
    seen = run.records.length;
  };
  steps({
    ...run,
    put: (body: RecordBody, at_ms?: number) => {
      const found = run.put(body, at_ms);
      take(found);
      return found;
    },
    check: (...args) => {
      const found = run.check(...args);
      take(found);
      return found;
    },
  });
  return { view: handoverView(run.state(), gathering.gathered(), 1_772_100_000_000, null), state: run.state() };
};
