import { WASH_CAUTION } from '../plates/wash-caution.js';
import type { RunState } from '../run/state.js';
import { stationsOf } from '../run/stations.js';
import { eventNames } from './event-names.js';
import { plateView } from './plate-view.js';
import { colour, type Todo } from './todo.js';

/** What plates ask for: a dirty one is washed, at a stop every one that is not clean; one seen building is looked at again. */
export const plateTodos = (state: RunState): readonly Todo[] => {
  const names = eventNames(state);
  const stopped = state.judged.phase === 'stopped';
  return stationsOf(state.press, state.job)
    .flatMap((s): Todo[] => {
      const plate = plateView(state, s.id);
      const unseen = plate.washed?.seen === false;
      if (s.kind !== 'print' || (plate.flag === null && (unseen || plate.grade !== 'building'))) return [];
      const label = names.labels[s.id] ?? s.id;
      const count = plate.flaws === null ? '' : ` ${plate.flaws.flaws}/${plate.flaws.labels}`;
      const state_ = plate.flag ?? 'building';
      const wash = plate.flag === 'dirty' || (stopped && plate.flag !== null);
      // Debris comes back onto a washed plate while it is still about.
      const debris = state.judged.plates.stations[s.id]?.flaw.comes === 'moves';
      const why = [plate.why ?? `Graded ${plate.grade}.`, plate.flaw, plate.cause ?? '', wash ? WASH_CAUTION : ''];
      return [
        {
          kind: wash ? 'wash' : 'plate',
          urgency: plate.flag === 'dirty' ? 'act' : 'note',
          head: wash
            ? `WASH ${label}: plate ${state_}${count}`
            : `LOOK at the plate of ${label} at the next check: ${state_}${count}`,
          tail: wash ? `${debris ? ', look for debris' : ''}, press stopped and made safe` : '',
          big: wash ? `wash ${colour(label)}` : `watch plate ${colour(label)}`,
          why: why.filter((one) => one !== '').join(' '),
          move: null,
          event: null,
          station: s.id,
        },
      ];
    })
    .sort((a, b) => Number(b.kind === 'wash') - Number(a.kind === 'wash'));
};
