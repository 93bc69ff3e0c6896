import { normal, type Rng } from './prng.js';

/** Metres between the nodes of a drawn line. */
const NODE_M = 100;

export type Line = (counterM: number) => number;

/**
 * A slow wander that starts from 0 at OK: standing sd `sd` forgetting over `forgetM`, plus an unbounded walk gathering sd
 * `walk` over `rollM`. Straight between nodes; 0 before OK.
 */
export const wanderLine = (
  rng: Rng,
  totalM: number,
  sd: number,
  forgetM: number,
  walk: number,
  rollM: number,
): Line => {
  const nodes = new Float64Array(Math.ceil(totalM / NODE_M) + 3);
  const keep = Math.exp(-NODE_M / forgetM);
  const fresh = sd * Math.sqrt(1 - keep * keep);
  const stride = walk * Math.sqrt(NODE_M / rollM);
  let slow = 0;
  let far = 0;
  for (let i = 1; i < nodes.length; i++) {
    slow = keep * slow + fresh * normal(rng);
    far += stride * normal(rng);
    nodes[i] = slow + far;
  }
  if (sd === 0 && walk === 0) return () => 0;
  return (c) => {
    if (c <= 0) return 0;
    const x = Math.min(c / NODE_M, nodes.length - 1.001);
    const i = Math.floor(x);
    const a = nodes[i] ?? 0;
    return a + ((nodes[i + 1] ?? a) - a) * (x - i);
  };
};
