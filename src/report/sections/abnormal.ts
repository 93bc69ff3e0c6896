import { list, type Section, say } from '../document.js';
import type { Telling } from '../telling.js';

/** Section 2: what is not as usual or only for now: changed tolerances, a lost sensor, agreed exceptions, travel nearly used. */
export const abnormal = ({ view }: Telling): Section => ({
  id: 'abnormal',
  title: '2 Abnormal or temporary',
  ...(view.abnormal.length === 0 ? { nothing: 'what is abnormal or temporary' } : {}),
  blocks: [view.abnormal.length === 0 ? say('Nothing abnormal or temporary is recorded.') : list(view.abnormal)],
});
