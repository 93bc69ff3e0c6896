import { ok } from '../../core/result.js';
import type { Act } from './act.js';
import { counterField, counterWords, readCounter } from './counter-field.js';

/** The run has ended. */
export const end: Act = {
  name: 'end',
  title: 'end of the run',
  open: (context) => ok({ act: 'end', at: 0, message: null, carried: {}, fields: [counterField(context)] }),
  sentence: (form, context) => `The run has ENDED at ${counterWords(form, context)}? Nothing more can be keyed to it.`,
  outcome: (form, context) => {
    const web_m = readCounter(form, context);
    return web_m.ok
      ? ok({ records: [{ type: 'end', web_m: web_m.value }], said: 'The run has ended. h shows the handover.' })
      : web_m;
  },
};
