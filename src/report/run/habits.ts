import { axisWords } from '../../core/views/event-words.js';
import { type Block, type Section, say } from '../document.js';
import type { Telling } from '../telling.js';
import { gainWords } from './gain-words.js';
import { knobResponse } from './knob-response.js';
import { longestGap } from './longest-gap.js';

/** How the run was watched and how the knobs answered. */
export function habits(telling: Telling): Section {
  const { view, at } = telling;
  const gap = longestGap(view.charts ?? []);
  return {
    id: 'habits',
    title: 'Checks and knobs',
    blocks: [
      say(
        `Checks made: ${view.checks.made}${view.checks.withdrawn > 0 ? `, ${view.checks.withdrawn} taken back` : ''}. ${gap === null ? 'Too few of them measured anything to say how far apart they were.' : `Longest stretch without a measurement: ${at(gap.to_m - gap.from_m)}, from ${at(gap.from_m)} to ${at(gap.to_m)}.`}`,
      ),
      ...responseBlocks(telling),
    ],
  };
}

function responseBlocks({ view }: Telling): readonly Block[] {
  const responses = knobResponse(view.corrections);
  if (responses.length === 0)
    return [say('No turn of a knob was read afterwards, so nothing was learned of the knobs.')];
  return [
    {
      kind: 'table',
      caption: 'What the knobs really did',
      head: 0,
      columns: [
        { title: 'Station' },
        { title: 'Direction' },
        { title: 'Turns read', numbers: true },
        { title: 'Moved for each 0.10 turned', numbers: true },
      ],
      rows: responses.map((found) => [
        found.label,
        axisWords(found.axis),
        String(found.turns),
        gainWords(found.gain, found.turns),
      ]),
    },
  ];
}
