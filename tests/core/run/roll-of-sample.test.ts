import { describe, expect, test } from 'vitest';
import { rollOfSample, rollsNow, rollUnderSensor } from '../../../src/core/run/roll-of-sample.js';
import { tryRun } from '../../support/try-run.js';

describe('which finished roll a sample is off', () => {
  const at = (web_m: number, off: readonly [string, number][]): { loupe: string | null; sensor: string | null } => {
    const run = tryRun();
    for (const [roll, m] of off) run.put({ type: 'finished', web_m: m, roll });
    const rolls = rollsNow(run.state().judged, web_m);
    return { loupe: rollOfSample(rolls), sensor: rollUnderSensor(rolls) };
  };
  test('before any came off, roll 1', () => expect(at(500, [])).toEqual({ loupe: '1', sensor: '1' }));
  test('just after one came off the loupe has its outside in the hand, the sensor sees the next', () =>
    expect(at(2_050, [['1', 2_000]])).toEqual({ loupe: '1', sensor: '2' }));
  test('later the one that winds', () => expect(at(2_500, [['1', 2_000]])).toEqual({ loupe: '2', sensor: '2' }));
  test('pulled before the roll came off and keyed after: that roll', () =>
    expect(at(1_900, [['1', 2_000]])).toEqual({ loupe: '1', sensor: '1' }));
  test('rolls that are not numbered: the name is known when it comes off', () =>
    expect(at(2_500, [['A7', 2_000]])).toEqual({ loupe: null, sensor: null }));
});
