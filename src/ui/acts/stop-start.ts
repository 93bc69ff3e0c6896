import { ok } from '../../core/result.js';
import { choiceField, textOf } from '../form.js';
import type { Act, ActContext } from './act.js';
import { counterField, counterWords, readCounter } from './counter-field.js';
import { readSpeed, speedField } from './speed-field.js';

/** The press stopped, or runs again. */
export const stopStart: Act = {
  name: 'stop-start',
  title: 'stopped / running',
  open: (context) => {
    const running = isRunning(context);
    return ok(
      revise({
        act: 'stop-start',
        // The answer is nearly always right; the counter is what is keyed.
        at: 1,
        message: null,
        carried: {},
        fields: [
          choiceField(
            'what',
            'the press',
            [
              { value: 'stop', label: 'stopped' },
              { value: 'start', label: 'runs again' },
            ],
            running ? 'stop' : 'start',
          ),
          counterField(context),
          speedField(context, 'not known'),
        ],
      }),
    );
  },
  revise: (form) => revise(form),
  sentence: (form, context) =>
    textOf(form, 'what') === 'stop'
      ? `The press STOPPED at ${counterWords(form, context)}?`
      : `The press RUNS AGAIN at ${counterWords(form, context)}?`,
  outcome: (form, context) => {
    const web_m = readCounter(form, context);
    if (!web_m.ok) return web_m;
    if (textOf(form, 'what') === 'stop')
      return ok({ records: [{ type: 'stop', web_m: web_m.value }], said: 'Stopped.' });
    const speed = readSpeed(form, context);
    if (!speed.ok) return speed;
    return ok({
      records: [{ type: 'start', web_m: web_m.value, ...(speed.value === null ? {} : { m_per_min: speed.value }) }],
      said: 'Running again. Look, do not turn, until it has settled.',
    });
  },
};

const revise = (form: Parameters<NonNullable<Act['revise']>>[0]): typeof form => ({
  ...form,
  fields: form.fields.map((one) => (one.name === 'speed' ? { ...one, hidden: form.fields[0]?.text === 'stop' } : one)),
});

function isRunning(context: ActContext): boolean {
  const { phase, position } = context.view;
  return phase === 'running' || phase === 'settling' || (phase === 'make-ready' && position.estimated);
}
