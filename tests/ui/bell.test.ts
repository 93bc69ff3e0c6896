import { describe, expect, it } from 'vitest';
import type { BoardView } from '../../src/core/views/board-view.js';
import { type Bell, silentBell, stepBell } from '../../src/ui/bell.js';
import { drifting, event, out, quiet } from './fixtures.js';

/** Rings heard when the view is looked at every ten seconds. */
function rings(views: (second: number) => BoardView, seconds: number, muted = false): readonly number[] {
  let bell: Bell = silentBell;
  const heard: number[] = [];
  for (let s = 0; s <= seconds; s += 10) {
    const step = stepBell(bell, views(s), s * 1000, muted);
    bell = step.bell;
    if (step.ring) heard.push(s);
  }
  return heard;
}

describe('the bell', () => {
  it('is silent when all is well, and for a note', () => {
    expect(rings(() => quiet(), 300)).toEqual([]);
    expect(rings(() => quiet({ events: [event({ severity: 'note' })] }), 300)).toEqual([]);
  });

  it('rings once for an act', () => {
    expect(rings(drifting, 300)).toEqual([0]);
  });

  it('rings each minute for an out until it is seen', () => {
    const seen = { ...out(), events: out().events.map((one) => ({ ...one, seen: true })) };
    expect(rings((s) => (s < 130 ? out() : seen), 300)).toEqual([0, 60, 120]);
  });

  it('rings again when an act becomes an out', () => {
    expect(rings((s) => (s < 100 ? drifting() : out()), 200)).toEqual([0, 100, 160]);
  });

  it('never rings twice within a minute, whatever comes', () => {
    const flood = (s: number): BoardView =>
      quiet({ events: Array.from({ length: s / 10 + 1 }, (_, i) => event({ id: i, severity: 'out' })) });
    const heard = rings(flood, 600);
    heard.slice(1).forEach((at, i) => {
      expect(at - (heard[i] ?? 0)).toBeGreaterThanOrEqual(60);
    });
    expect(heard.length).toBe(11);
  });

  it('what comes within the minute is rung at its end, unless it was seen by then', () => {
    const second = event({ id: 2, severity: 'act' });
    const both = (seen: boolean): BoardView => quiet({ events: [...drifting().events, { ...second, seen }] });
    expect(rings((s) => (s < 20 ? drifting() : both(false)), 200)).toEqual([0, 60]);
    expect(rings((s) => (s < 20 ? drifting() : both(s >= 40)), 200)).toEqual([0]);
  });

  it('can be silenced', () => {
    expect(rings(out, 300, true)).toEqual([]);
  });

  it('is silent for what is closed', () => {
    expect(
      rings(() => quiet({ events: [event({ severity: 'out', open: false, how_closed: 'corrected' })] }), 120),
    ).toEqual([]);
  });
});
