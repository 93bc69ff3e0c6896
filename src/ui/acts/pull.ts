import type { Pull } from '../../core/record.js';
import { ok } from '../../core/result.js';
import { rollOfSample } from '../../core/run/roll-of-sample.js';
import { atCounter } from '../../core/views/at-counter.js';
import type { BoardView } from '../../core/views/board-view.js';
import type { Act } from './act.js';
import { counterField, counterWords, readCounter } from './counter-field.js';

/** A sample pulled while no counter is known: the counter is asked, the rest is stamped. */
export const pull: Act = {
  name: 'pull',
  title: 'sample pulled',
  open: (context) => ok({ act: 'pull', at: 0, message: null, carried: {}, fields: [counterField(context)] }),
  sentence: (form, context) => `Sample ${context.view.next_check_id} pulled at ${counterWords(form, context)}?`,
  outcome: (form, context) => {
    const web_m = readCounter(form, context);
    if (!web_m.ok) return web_m;
    const record: Pull = {
      type: 'pull',
      check: context.view.next_check_id,
      web_m: web_m.value,
      roll: rollOfSample(context.view.finished_roll),
      counter: 'keyed',
      place: null,
    };
    const grid = form.carried.grid === 'yes';
    return ok({
      records: [record],
      said: pullWords(context.view, record),
      ...(grid ? { next: 'grid' as const, check: String(record.check) } : {}),
    });
  },
};

/** The pull as it can be stamped without asking, or null when no counter is known. */
export function stampPull(view: BoardView): Pull | null {
  const { web_m, estimated, age_s, speed_m_min } = view.position;
  // Running at no known speed the position is only where it last was: better asked than stamped wrong.
  if (web_m === null || (estimated && speed_m_min === null) || turnedSince(view, web_m)) return null;
  return {
    type: 'pull',
    check: view.next_check_id,
    web_m: Math.ceil(web_m * 1000) / 1000,
    roll: rollOfSample(view.finished_roll),
    counter: estimated ? 'estimated' : 'keyed',
    ...(estimated && age_s !== null ? { age_s: Math.round(age_s) } : {}),
    place: null,
  };
}

/** All was turned in make-ready and the counter still stands where it was: the next sample comes from further on, so it is asked where. */
const turnedSince = ({ phase, instruction }: BoardView, web_m: number): boolean =>
  phase === 'make-ready' &&
  instruction.moves.length === 0 &&
  instruction.read_again.length === 0 &&
  instruction.tells_from_m !== null &&
  web_m < instruction.tells_from_m;

/** What to do with the sample in the hand. */
export function pullWords(view: BoardView, record: Pull): string {
  const at = atCounter(record.web_m, view);
  const where = `${record.roll === null ? '' : ` off roll ${record.roll}`} at ${at}${record.counter === 'estimated' ? ' (estimated)' : ''}`;
  const worth = view.stations.filter((one) => one.worth_measuring).map((one) => one.label);
  const best = worth.length === 0 ? '' : ` Most worth measuring: ${worth.join(', ')}.`;
  return `Sample ${record.check} pulled${where}. Mark on it: ${record.check}, arrow the way the web runs, operator side, print up.${best} Then c.`;
}
