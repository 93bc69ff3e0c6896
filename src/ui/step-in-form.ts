import { ACTS } from './acts/index.js';
import { type Form, stepForm } from './form.js';
import type { Keystroke } from './keystroke.js';
import { only } from './only.js';
import type { Screen, ScreenContext, ScreenStep } from './screen.js';
import { actContext } from './selected-station.js';

/** A key while an act waits for its Enter. */
export function stepInForm(screen: Screen, form: Form, key: Keystroke, context: ScreenContext): ScreenStep {
  const act = ACTS[form.act];
  const acting = actContext(screen, context);
  // Ctrl-C twice leaves at once: the second one is a way out that always works.
  if (form.act === 'quit' && 'name' in key && key.name === 'ctrl-c')
    return { screen, effect: { kind: 'quit', code: 130 } };
  const step = stepForm(form, key);
  if (step.outcome === 'leave') return only({ ...screen, mode: { kind: 'board' } });
  if (step.outcome === 'stay')
    return only({ ...screen, mode: { kind: 'form', form: act.revise?.(step.form, acting) ?? step.form } });
  const outcome = act.outcome(step.form, acting);
  if (!outcome.ok)
    return only({ ...screen, mode: { kind: 'form', form: { ...step.form, message: outcome.problem.message } } });
  return {
    screen,
    effect: {
      kind: 'submit',
      records: outcome.value.records,
      after: { kind: 'form', form: step.form, outcome: outcome.value },
    },
  };
}
