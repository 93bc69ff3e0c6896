import { labelOf } from './check/second-label.js';
import { stepGrid } from './check/step-grid.js';
import { draftWords, toCheck } from './check/to-check.js';
import type { Keystroke } from './keystroke.js';
import type { Screen, ScreenContext, ScreenStep } from './looking.js';
import { only, say } from './only.js';
import { openGrid } from './open-grid.js';

/** A key while a check is keyed. */
export function stepInGrid(screen: Screen, check: string, key: Keystroke, context: ScreenContext): ScreenStep {
  const draft = screen.drafts[check];
  if (draft === undefined) return only({ ...screen, mode: { kind: 'board' } });
  const step = stepGrid(draft, key, context);
  const next: Screen = { ...screen, message: null, drafts: { ...screen.drafts, [check]: step.draft } };
  if (step.outcome === 'leave')
    return only(say({ ...next, mode: { kind: 'board' } }, `Check ${check} is kept half-keyed; c brings it back.`));
  if (step.outcome === 'stay') return only(next);
  if (step.outcome === 'older' || step.outcome === 'newer') {
    const waiting = context.view.pulled.map((one) => String(one.check));
    const other = waiting[waiting.indexOf(check) + (step.outcome === 'newer' ? 1 : -1)];
    return only(other === undefined ? next : openGrid(next, other, context));
  }
  if (step.outcome === 'throw-away')
    return {
      screen: next,
      effect: {
        kind: 'submit',
        records: [{ type: 'withdraw', check: step.draft.check, entry: null, web_m: context.view.position.web_m }],
        after: { kind: 'check', check, said: `Sample ${check} thrown away, not read.` },
      },
    };
  const sample = labelOf(step.draft, context.view);
  const of = sample === null ? '' : `second label of sample ${sample.check}, `;
  const said = `Check ${check} saved: ${of}${draftWords(step.draft, context.view)}.`;
  return {
    screen: next,
    effect: { kind: 'submit', records: [toCheck(step.draft, context.view)], after: { kind: 'check', check, said } },
  };
}
