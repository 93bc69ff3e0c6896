import { fail, ok, type Result } from '../../result.js';
import { type RunLengthOptions, runLength } from '../run-length.js';
import type { StatsAnswer } from './document.js';
import { CHART_WORDS, type StatsOptions } from './options.js';

/** `runlength`: a computation on a chart's settings, without a file. */
export const runLengthsOf = (options: StatsOptions): Result<StatsAnswer> => {
  const { chart } = options;
  if (chart === undefined) return fail(`runlength needs --chart: ${CHART_WORDS.join(', ')}`);
  const { shift, drift, asked, weight, width, limits, slack, decision, headStart, sides, rules } = options;
  const settings: Omit<RunLengthOptions, 'chart' | 'shift' | 'drift' | 'asked'> = {
    ...(weight === undefined ? {} : { weight }),
    ...(width === undefined ? {} : { width }),
    ...(limits === undefined ? {} : { limits }),
    ...(slack === undefined ? {} : { slack }),
    ...(decision === undefined ? {} : { decision }),
    ...(headStart === undefined ? {} : { headStart }),
    ...(sides === undefined ? {} : { sides }),
    ...(rules === undefined ? {} : { rules }),
  };
  const found = runLength({
    chart,
    ...settings,
    ...(shift === undefined ? {} : { shift }),
    ...(drift === undefined ? {} : { drift }),
    ...(asked === undefined ? {} : { asked }),
  });
  if (!found.ok) return found;
  return ok({
    document: {
      method: 'runlength',
      n: null,
      centre: null,
      sigma: null,
      points: [],
      parameters: { chart, ...settings, ...(asked === undefined ? {} : { asked }) },
      result: found.value,
    },
  });
};
