import type { LogLine } from '../../core/views/handover-view.js';
import { list, type Section, say } from '../document.js';
import type { Telling } from '../telling.js';

/** Section 9: the other things that happened, newest kept when there are very many. */
export function logLines({ view, clock, at }: Telling): Section {
  const told = withoutRollCall(view.log);
  const kept = told.slice(-MOST);
  const left = told.length - kept.length;
  const place = (line: LogLine): string =>
    line.web_m === null || line.words.includes(at(line.web_m)) ? '' : `, ${at(line.web_m)}`;
  const lines = kept.map((line) => `${clock.time(line.at)}${place(line)}: ${line.words} (${line.by})`);
  return {
    id: 'log',
    title: '9 What else happened',
    ...(lines.length === 0 ? { nothing: 'anything else' } : {}),
    blocks: [
      ...(left > 0 ? [say(`${left} earlier lines are in the run log and not repeated here.`)] : []),
      lines.length === 0 ? say('Nothing else is recorded.') : list(lines),
    ],
  };
}

const MOST = 60;

/** Many finished rolls that came off one after the other are not news: the last of them stands for all. */
function withoutRollCall(log: readonly LogLine[]): readonly LogLine[] {
  const off = log.filter((line) => line.roll_off === true);
  const last = off[off.length - 1];
  if (last === undefined || off.length <= FEW) return log;
  return log.flatMap((line) =>
    line === last
      ? [{ ...line, words: `${off.length} finished rolls came off in this time, the last: ${line.words}` }]
      : line.roll_off === true
        ? []
        : [line],
  );
}

const FEW = 4;
