import type { RecordBody } from '../../core/record.js';
import { fail, ok } from '../../core/result.js';
import { choiceField, numberField, textOf } from '../form.js';
import type { Act } from './act.js';
import { counterField, counterWords, readCounter, readLength } from './counter-field.js';
import { readSpeed } from './stop-start.js';

/** The counter read off the press, the speed, or a counter that was set anew. */
export const counter: Act = {
  name: 'counter',
  title: 'counter and speed',
  open: (context) => {
    const speed = context.view.position.speed_m_min;
    return ok({
      act: 'counter',
      at: 0,
      message: null,
      carried: { speed: speed === null ? '' : String(Math.round(speed)) },
      fields: [
        counterField(context),
        numberField(
          'speed',
          'speed, m/min (blank: as it was)',
          speed === null || speed === 0 ? '' : String(Math.round(speed)),
        ),
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
    `Counter ${textOf(form, 'how') === 'set' ? 'was SET ANEW to' : 'shows'} ${counterWords(form, context)}${textOf(form, 'speed') === '' ? '' : ` at ${textOf(form, 'speed')} m/min`}?`,
  outcome: (form, context) => {
    const speed = readSpeed(textOf(form, 'speed'));
    if (speed === undefined) return fail(`"${textOf(form, 'speed')}" is not a speed: key m/min, or leave it blank.`);
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
    if (speed !== null && (form.carried.speed ?? '') !== String(Math.round(speed)))
      records.push({ type: 'speed', web_m, m_per_min: speed });
    return ok({ records, said: 'Counter noted.' });
  },
};
