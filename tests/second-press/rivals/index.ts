import type { CrewFactory } from '../crew.js';
import { halfTolerance, threeSigma, turnEverything } from './by-the-reading.js';
import { experienced } from './experienced.js';
import { never } from './never.js';
import { oracle } from './oracle.js';

export { experienced, halfTolerance, never, oracle, threeSigma, turnEverything };

export const RIVALS: readonly CrewFactory[] = [never, threeSigma, halfTolerance, turnEverything, experienced, oracle];
