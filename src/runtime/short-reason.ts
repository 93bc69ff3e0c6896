import type { Problem } from '../core/result.js';

/** What is wrong, for one row of the board: why and what to do, without what was being done to which path. */
export const shortReason = ({ why, message }: Problem): string => why ?? message;
