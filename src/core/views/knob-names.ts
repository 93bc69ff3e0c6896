import type { NamedStation } from '../adjust/words.js';
import type { Axis } from '../axis.js';
import { knobOf } from '../run/knob-of.js';
import type { RunState } from '../run/state.js';
import { labelOf, stationsOf } from '../run/stations.js';

/** What each station's knob on an axis is called and how it is marked, for the words of an advice: the knob across is another knob. */
export const knobNames = ({ press, job, judged }: RunState, axis: Axis): readonly NamedStation[] =>
  stationsOf(press, job).map((s) => {
    const { word, sense } = knobOf(judged, s, axis);
    return { id: s.id, name: labelOf(s), word, sense };
  });
