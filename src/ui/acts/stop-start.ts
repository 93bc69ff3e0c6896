import { fail, ok } from '../../core/result.js';
import { choiceField, numberField, textOf } from '../form.js';
import type { Act, ActContext } from './act.js';
import { counterField, counterWords, readCounter } from './counter-field.js';

/** The press stopped, or runs again. */
export const stopStart: Act = {
  name: 'stop-start',
  title: 'stopped / running',
  open: (context) => {
    const running = isRunning(context);
    const speed = context.view.position.speed_m_min;
    return ok(
      revise({
        act: 'stop-start',
        at: 0,
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
          numberField(
            'speed',
            'speed, m/min (blank: not known)',
            speed === null || speed === 0 ? '' : String(Math.round(speed)),
          ),
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
    const speed = readSpeed(textOf(form, 'speed'));
    if (speed === undefined) return fail(`"${textOf(form, 'speed')}" is not a speed: key m/min, or leave it blank.`);
    return ok({
      records: [{ type: 'start', web_m: web_m.value, ...(speed === null ? {} : { m_per_min: speed }) }],
      said: 'Running again. Look, do not turn, until it has settled.',
    });
  },
};

/** Metres a minute as keyed; null = blank, undefined = not a speed. */
export function readSpeed(text: string): number | null | undefined {
  if (text === '') return null;
  return /^\d{1,4}([.,]\d+)?$/.test(text) ? Number(text.replace(',', '.')) : undefined;
}

const revise = (form: Parameters<NonNullable<Act['revise']>>[0]): typeof form => ({
  ...form,
  fields: form.fields.map((one) => (one.name === 'speed' ? { ...one, hidden: form.fields[0]?.text === 'stop' } : one)),
});

function isRunning(context: ActContext): boolean {
  const { phase, position } = context.view;
  return phase === 'running' || phase === 'settling' || (phase === 'make-ready' && position.estimated);
}
