import { REFUSALS, type Refusal } from './profile.js';

/** What came off the wire so far: nothing is dropped without being counted here. */
export type SensorCounts = {
  readonly bytes: number;
  /** Whole messages cut out, good or not. */
  readonly messages: number;
  readonly readings: number;
  /** Readings of a stuck station, not used. */
  readonly stuck: number;
  /** Signs of life and messages the profile says to leave. */
  readonly other: number;
  /** Messages of a flood that were not looked at. */
  readonly flooded: number;
  readonly timeouts: number;
  readonly refused: Readonly<Record<Refusal, number>>;
};

export type Counting = {
  bytes: number;
  messages: number;
  readings: number;
  stuck: number;
  other: number;
  flooded: number;
  timeouts: number;
  refused: Record<Refusal, number>;
};

export const newCounting = (): Counting => ({
  bytes: 0,
  messages: 0,
  readings: 0,
  stuck: 0,
  other: 0,
  flooded: 0,
  timeouts: 0,
  refused: Object.fromEntries(REFUSALS.map((r) => [r, 0])) as Record<Refusal, number>,
});
