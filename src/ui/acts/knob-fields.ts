import type { Axis } from '../../core/axis.js';
import type { StationView } from '../../core/views/board-view.js';
import { type Form, textOf } from '../form.js';
import type { ActContext } from './act.js';

/** What the fields `axis` and `station` of a form about a knob say. */
export const axisOf = (form: Form): Axis => (textOf(form, 'axis') === 'across' ? 'across' : 'along');

export const stationOf = (form: Form, context: ActContext): StationView | undefined =>
  context.view.stations.find((one) => one.id === textOf(form, 'station'));
