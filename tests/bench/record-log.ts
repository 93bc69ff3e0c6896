import type { LogRecord } from '../../src/core/record.js';
import type { HandoverView } from '../../src/core/views/handover-view.js';

/** What the report says of what was done, held against the entries of the log; the places where it says otherwise. */
export const contradictions = (
  view: HandoverView,
  log: readonly LogRecord[],
): { readonly told: number; readonly wrong: readonly string[] } => {
  const wrong: string[] = [];
  let told = 0;
  const must = (holds: boolean, words: string): void => {
    told += 1;
    if (!holds) wrong.push(words);
  };
  const checks = log.filter((r) => r.type === 'check');
  const turns = log.filter((r) => r.type === 'correction');
  must(view.corrections.length === turns.length, 'not every turn is told');
  for (const [i, done] of view.corrections.entries()) {
    const made = turns[i];
    const same = made?.station === done.station && made.axis === done.axis && made.move_mm === done.move_mm;
    must(same && made.web_m === done.web_m && made.by === done.by && made.at === done.at, `turn ${i + 1}`);
  }
  for (const { event, found_check, found_web_m, closed_web_m } of view.stories) {
    const sentence = `movement ${event.id}`;
    const at = checks.find((c) => String(c.check) === found_check);
    must(at !== undefined && Math.abs(at.web_m - found_web_m) < 1e-6, `${sentence}: found at no check of the log`);
    const since = checks.find((c) => c.check === event.since.check);
    must(
      since !== undefined && Math.abs(since.web_m - event.since.web_m) < 1e-6,
      `${sentence}: since no check of the log`,
    );
    must(
      since === undefined || at === undefined || since.web_m <= at.web_m + 1e-6,
      `${sentence}: found before it began`,
    );
    const named = event.cause.kind === 'station' ? event.cause.station : null;
    const own = turns.filter(
      (t) =>
        t.station === named &&
        t.axis === event.axis &&
        t.web_m > event.since.web_m &&
        t.web_m <= (closed_web_m ?? Infinity),
    );
    must(
      own.length === 0 || !/by itself|nothing was turned/.test(event.sentence),
      `${sentence}: "by itself", and it was turned`,
    );
    must(
      !/It was corrected/.test(event.sentence) || event.done.length > 0,
      `${sentence}: corrected, and nothing was turned`,
    );
    for (const line of event.done)
      must(
        turns.some((t) => t.axis === event.axis && line.includes(Math.abs(t.move_mm).toFixed(2))),
        `${sentence}: ${line}`,
      );
  }
  const made = view.product?.may_ship ?? [];
  const off = log.flatMap((r) => (r.type === 'finished' ? [r.roll] : []));
  for (const roll of made) must(off.includes(roll), `roll ${roll} may ship, and never came off`);
  return { told, wrong };
};
