import { chanceWords, reachSentence } from '../../core/views/event-words.js';
import type { EventStory } from '../../core/views/handover-view.js';
import { type Block, type Fact, type Section, say } from '../document.js';
import { rollsWords, type Telling } from '../telling.js';

/** Section 4: every movement in the order found: what moved, since when, evidence, advice, what was done, result. */
export function movements(telling: Telling): Section {
  const stories = [...telling.view.stories].sort((a, b) => a.found_web_m - b.found_web_m || a.event.id - b.event.id);
  return {
    id: 'movements',
    title: '4 Movements, oldest first',
    ...(stories.length === 0 && telling.view.checks.made > 0 ? { nothing: 'movements' } : {}),
    blocks: stories.length === 0 ? [say(noneWords(telling))] : stories.flatMap((story) => storyBlocks(story, telling)),
  };
}

const noneWords = ({ view }: Telling): string =>
  view.checks.made === 0 ? 'No check was made, so no movement could be found.' : 'No movement was found.';

function storyBlocks(story: EventStory, telling: Telling): readonly Block[] {
  const { event } = story;
  const when = story.found_at === null ? '' : `${telling.clock.time(story.found_at)}, `;
  const all: readonly Fact[] = [
    { term: 'Evidence', says: evidence(story, telling) },
    { term: 'Advice', says: story.advised },
    { term: 'Done', says: orElse(event.done, 'nothing is recorded') },
    { term: 'Result', says: result(story, telling) },
  ];
  const facts = all.filter(({ says }) => says.length > 0);
  return [
    {
      kind: 'heading',
      text: `${when}${telling.at(story.found_web_m)}: check ${story.found_check}: movement ${event.id}, ${stateWords(story)}`,
    },
    say(event.sentence),
    { kind: 'facts', facts },
  ];
}

const stateWords = ({ event }: EventStory): string =>
  event.open
    ? `OPEN${event.severity === 'out' ? ', OUT of tolerance' : ''}${event.seen ? ', seen' : ', not marked as seen'}`
    : (event.how_closed ?? 'closed');

function evidence(story: EventStory, telling: Telling): readonly string[] {
  const { event } = story;
  const goes_on = event.open && telling.view.board.phase !== 'ended';
  const lines: string[] = [];
  if (goes_on && event.severity !== 'out')
    lines.push(`Chance that it is out of tolerance at the next check: ${chanceWords(event.out_before_next_check)}.`);
  const reach =
    goes_on && event.severity !== 'out'
      ? reachSentence(event.reach, telling.names, telling.view.board.position.web_m)
      : '';
  return reach === '' ? lines : [...lines, reach];
}

function result(story: EventStory, telling: Telling): readonly string[] {
  const { event } = story;
  const ended = event.open
    ? 'Still open.'
    : `${event.misread !== undefined ? 'Most likely misread: inside when read again on the same sample,' : event.how_closed === 'recovered' && event.done.length > 0 ? 'Over, after what was done,' : ENDS[event.how_closed ?? 'closed']}${story.closed_web_m === null ? '' : ` at ${telling.at(story.closed_web_m)}`}.`;
  const held = [...new Set(story.suspects.flatMap((span) => span.rolls))];
  return [held.length > 0 ? `${ended} Product held: ${rollsWords(held)}.` : ended];
}

const ENDS = {
  corrected: 'Corrected',
  recovered: 'Came back by itself',
  withdrawn: 'Taken back with the reading behind it',
  closed: 'Closed',
};

const orElse = (lines: readonly string[], otherwise: string): readonly string[] =>
  lines.length === 0 ? [otherwise] : lines;
