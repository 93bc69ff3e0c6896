import { axisWords, listWords } from '../../core/views/event-words.js';
import { type Block, list, type Section, say } from '../document.js';
import type { Telling } from '../telling.js';
import { ENOUGH_TURNS, gainWords } from './gain-words.js';
import { knobResponse } from './knob-response.js';
import { longestGap } from './longest-gap.js';

/** How the run was watched and how the knobs answered. */
export function habits(telling: Telling): Section {
  const { view, at, long } = telling;
  const gap = longestGap(view.charts ?? []);
  return {
    id: 'habits',
    title: 'Checks and knobs',
    blocks: [
      say(
        `Checks made: ${view.checks.made}${view.checks.withdrawn > 0 ? `, ${view.checks.withdrawn} taken back` : ''}. ${gap === null ? 'Too few of them measured anything to say how far apart they were.' : `Longest stretch without a measurement: ${long(gap.to_m - gap.from_m)}, from ${at(gap.from_m)} to ${at(gap.to_m)}.`}`,
      ),
      ...roundsBlocks(telling),
      ...responseBlocks(telling),
      ...lessonBlocks(telling),
    ],
  };
}

/** Checks against the job's plan. */
function roundsBlocks({ view, at }: Telling): readonly Block[] {
  const rounds = view.whole?.rounds;
  if (rounds === undefined || rounds.made === 0) return [];
  if (rounds.missed === 0)
    return [say(`None was left out${rounds.late === 0 ? '' : `; ${rounds.late} came late`}, by the plan of the job.`)];
  const where = rounds.missed_at.slice(-MOST).map(({ web_m, why }) => `${at(web_m)} (${DUE[why] ?? why})`);
  return [
    say(
      `By the plan of the job ${rounds.missed} ${rounds.missed === 1 ? 'check was' : 'checks were'} left out${rounds.late === 0 ? '' : ` and ${rounds.late} came late`}; due at ${listWords(where)}${rounds.missed > where.length ? ', to name the last' : ''}.`,
    ),
  ];
}

const MOST = 5;
const DUE: Readonly<Record<string, string>> = {
  'roll off': 'end of a roll',
  metres: 'so many metres',
  minutes: 'so many minutes',
};

/** Slack and oddities of the knobs that the planner learned. */
function lessonBlocks({ view, size }: Telling): readonly Block[] {
  const lines = (view.whole?.knobs ?? []).flatMap(({ label, axis, known, words }) => [
    ...(words === null ? [] : [words]),
    ...(known.moves >= ENOUGH_TURNS && known.backlash_mm > 2 * known.backlash_sd_mm
      ? [`${label} ${axis}: about ${size(known.backlash_mm)} of slack when the direction is reversed.`]
      : []),
  ]);
  return lines.length === 0 ? [] : [list(lines)];
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
