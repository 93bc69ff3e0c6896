import type { RecordBody } from '../../core/record.js';
import { ok } from '../../core/result.js';
import { choiceField, textOf } from '../form.js';
import type { Act } from './act.js';
import { counterField, counterWords, readCounter, readLength } from './counter-field.js';
import { readSpeed, speedField, speedUnit } from './speed-field.js';

/** The counter read off the press, the speed, or a counter that was set anew. */
export const counter: Act = {
  name: 'counter',
  title: 'counter and speed',
  open: (context) => {
    return ok({
      act: 'counter',
      at: 0,
      message: null,
      carried: {},
      fields: [
        counterField(context),
        speedField(context, 'as it was'),
        choiceField(
          'how',
          'the counter',
          [
            { value: 'read', label: 'was read' },
            { value: 'set', label: 'was set anew to this' },
          ],
          'read',
        ),
      ],
    });
  },
  sentence: (form, context) =>
    `Counter ${textOf(form, 'how') === 'set' ? 'was SET ANEW to' : 'shows'} ${counterWords(form, context)}${textOf(form, 'speed') === '' ? '' : ` at ${textOf(form, 'speed')} ${speedUnit(context)}`}?`,
  outcome: (form, context) => {
    const speed = readSpeed(form, context);
    if (!speed.ok) return speed;
    const records: RecordBody[] = [];
    const here_m = context.view.position.web_m;
    let web_m: number;
    if (textOf(form, 'how') === 'set' && here_m !== null) {
      const shown = readLength(textOf(form, 'counter'), context);
      if (!shown.ok) return shown;
      web_m = here_m;
      records.push({ type: 'counter', offset_m: here_m - shown.value, web_m });
    } else {
      const read = readCounter(form, context);
      if (!read.ok) return read;
      web_m = read.value;
      records.push({ type: 'position', web_m });
    }
    if (speed.value !== null && speed.value !== context.view.position.speed_m_min)
      records.push({ type: 'speed', web_m, m_per_min: speed.value });
    return ok({ records, said: 'Counter noted.' });
  },
};
