import type { RecordBody } from '../core/record.js';
import type { ActContext } from './acts/act.js';
import { ACTS } from './acts/index.js';
import { type Form, stepForm } from './form.js';
import type { Keystroke } from './keystroke.js';
import type { Screen, ScreenContext, ScreenStep } from './looking.js';
import { only } from './only.js';
import { actContext } from './selected-station.js';

/** A counter that nobody touched is not one that was read: what it stamps says that it was reckoned. */
function reckoned(record: RecordBody, form: Form, context: ActContext): RecordBody {
  const field = form.fields.find((one) => one.name === 'counter');
  if (!context.view.position.estimated || field?.exact === undefined || !RECKONED.has(record.type)) return record;
  return { ...record, counter: 'estimated' } as RecordBody;
}

/** Not `position`: confirming what is shown is reading it. Not OK to run, from which everything is counted. */
const RECKONED: ReadonlySet<RecordBody['type']> = new Set([
  'pull',
  'correction',
  'roll',
  'finished',
  'wash',
  'speed',
  'stop',
  'start',
  'plate',
  'die',
  'web-set',
  'reference',
  'tolerance',
  'shift',
  'end',
]);

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
    // What was objected to is carried, so that an act can ask once and take the second Enter for an answer.
    return only({
      ...screen,
      mode: {
        kind: 'form',
        form: {
          ...step.form,
          message: outcome.problem.message,
          carried: { ...step.form.carried, asked: outcome.problem.message },
        },
      },
    });
  return {
    screen,
    effect: {
      kind: 'submit',
      records: outcome.value.records.map((record) => reckoned(record, step.form, acting)),
      after: { kind: 'form', form: step.form, outcome: outcome.value },
    },
  };
}
