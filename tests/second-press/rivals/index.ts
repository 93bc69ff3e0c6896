import type { CrewFactory } from '../crew.js';
import { halfTolerance, threeSigma, turnEverything } from './by-the-reading.js';
import { experienced } from './experienced.js';
import { never } from './never.js';
import { oracle } from './oracle.js';

export { experienced, halfTolerance, never, oracle, threeSigma, turnEverything };

export const RIVALS: readonly { readonly name: string; readonly crew: CrewFactory }[] = [
  { name: 'never', crew: never },
  { name: 'three-sigma', crew: threeSigma },
  { name: 'half-tolerance', crew: halfTolerance },
  { name: 'turn-everything', crew: turnEverything },
  { name: 'experienced', crew: experienced },
  { name: 'oracle', crew: oracle },
];
