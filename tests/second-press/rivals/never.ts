import type { CrewFactory } from '../crew.js';

/** Nobody touches anything. */
export const never: CrewFactory = () => ({ name: 'never', ok: () => {}, sample: () => {} });
