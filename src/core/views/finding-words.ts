import { instructionWords } from '../adjust/words.js';
import { placeWords } from '../counter.js';
import type { Finding } from '../finding.js';
import type { RunState } from '../run/state.js';
import { eventNames } from './event-names.js';
import { rollAt } from './event-views.js';
import { eventSentence, listWords, tookSentence } from './event-words.js';
import { knobNames } from './knob-names.js';
import { wholeWords } from './number-words.js';

/** One finding as one plain line. */
export const findingWords = (state: RunState, f: Finding): string => {
  const names = eventNames(state);
  const label = (id: string): string => names.labels[id] ?? id;
  switch (f.type) {
    case 'event':
      return `${f.severity.toUpperCase()} ${f.id}: ${eventSentence({ ...f, roll: rollAt(state, f.since.web_m), open: true, how_closed: null }, names)}`;
    case 'advice': {
      const axis = f.moves[0]?.axis ?? 'along';
      const again =
        f.read_again === undefined || f.read_again.length === 0
          ? ''
          : ` Read ${listWords(f.read_again.map(label))} on a second label.`;
      return f.moves.length === 0
        ? `  turn nothing: ${f.why}${again}`
        : `  ${instructionWords(f.moves, knobNames(state, axis), names.register).join(' ')} ${f.why}`;
    }
    case 'correction':
      return `  ${label(f.station)} ${f.axis}: ${tookSentence(f, names)}`;
    case 'closed':
      return `  movement ${f.event} is over: ${f.how}`;
    case 'suspect': {
      const at = (m: number): string => placeWords(m, names);
      const rolls =
        f.rolls.length === 0 ? '' : `, finished ${f.rolls.length === 1 ? 'roll' : 'rolls'} ${listWords(f.rolls)}`;
      return `  hold product from ${at(f.from.web_m)} to ${f.to === null ? 'the next good check' : at(f.to.web_m)}${rolls}: ${wholeWords(f.labels)} labels`;
    }
    case 'plate':
      return `PLATE ${label(f.station)}: ${f.state}. ${f.why}`;
  }
};
