import { describe, expect, test } from 'vitest';
import { shiftClock } from '../../src/report/shift-clock.js';

// Clock changes: EU Directive 2000/84/EC, summer time ends at 01:00 UTC on the last Sunday of October (26 Oct 2025), begins on the last of March (30 Mar 2025).

describe('times of a report', () => {
  test('within one day: the clock alone', () => {
    const clock = shiftClock('Europe/Vienna', '2026-05-12T04:00:00Z', '2026-05-12T12:02:00Z');
    expect(clock.time('2026-05-12T12:02:00Z')).toBe('14:02');
    expect(clock.zone).toBe('Europe/Vienna (UTC+2)');
    expect(clock.full('2026-05-12T12:02:00Z')).toBe('Tuesday 12 May 2026, 14:02');
    expect(clock.clocksChanged).toBe(false);
  });

  test('over midnight: every time carries its day, midnight itself is 00:00 of the new day', () => {
    const clock = shiftClock('Europe/Vienna', '2026-05-12T20:00:00Z', '2026-05-13T04:00:00Z');
    expect(clock.time('2026-05-12T21:59:00Z')).toBe('12 May 23:59');
    expect(clock.time('2026-05-12T22:00:00Z')).toBe('13 May 00:00');
  });

  test('clocks put back: the hour that comes twice can be told apart', () => {
    const clock = shiftClock('Europe/Vienna', '2025-10-25T20:00:00Z', '2025-10-26T05:00:00Z');
    expect(clock.time('2025-10-26T00:30:00Z')).toBe('26 Oct 02:30 (UTC+2)');
    expect(clock.time('2025-10-26T01:30:00Z')).toBe('26 Oct 02:30 (UTC+1)');
    expect(clock.clocksChanged).toBe(true);
  });

  test('clocks put forward: 02:xx does not exist', () => {
    const clock = shiftClock('Europe/Vienna', '2025-03-29T21:00:00Z', '2025-03-30T05:00:00Z');
    expect(clock.time('2025-03-30T00:59:00Z')).toBe('30 Mar 01:59 (UTC+1)');
    expect(clock.time('2025-03-30T01:00:00Z')).toBe('30 Mar 03:00 (UTC+2)');
  });

  test('a zone that is not known is UTC, and says so; a time that cannot be read stays as it is', () => {
    const clock = shiftClock('Plum/Jam', '2026-05-12T04:00:00Z', '2026-05-12T12:02:00Z');
    expect(clock.zone).toBe('UTC (the zone "Plum/Jam" is not known here)');
    expect(clock.time('2026-05-12T12:02:00Z')).toBe('12:02');
    expect(clock.time('yesterday')).toBe('yesterday');
  });
});
