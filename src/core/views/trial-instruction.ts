import { placeWords } from '../counter.js';
import type { OpenTrial } from '../run/open-trial.js';
import type { RunState } from '../run/state.js';
import type { EventView, Instruction } from './board-view.js';
import { eventNames } from './event-names.js';
import { calm } from './instruction.js';

/** What to do while a knob is being measured, one step after the other; null = none is, or something else has to be seen to first. */
export const trialInstruction = (
  state: RunState,
  trial: OpenTrial | null,
  events: readonly EventView[],
): Instruction | null => {
  if (trial === null || state.judged.phase === 'ended') return null;
  // What the turn itself put off is no trouble of its own; anything else is.
  const other = events.some(
    (e) =>
      e.open &&
      e.severity !== 'note' &&
      !(e.axis === trial.axis && e.cause.kind === 'station' && e.cause.station === trial.station),
  );
  if (other) return null;
  const names = eventNames(state);
  const label = names.labels[trial.station] ?? trial.station;
  const from = placeWords(trial.tells_from_m, names);
  return calm(
    trial.result === null
      ? `Pull a sample from ${from} on and read ${label} ${trial.axis}.`
      : `Record what the turn of ${label} says of its knob (d on the board).`,
    `Its knob is being measured ${trial.axis}: turned ${Math.abs(trial.divisions)} divisions after check ${trial.before.check}. Turn nothing else meanwhile.`,
    '',
  );
};
