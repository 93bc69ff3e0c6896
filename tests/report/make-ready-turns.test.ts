import { describe, expect, it } from 'vitest';
import { gatherer } from '../../src/core/views/gather.js';
import { handoverView } from '../../src/core/views/handover.js';
import { corrections } from '../../src/report/sections/corrections.js';
import { tellingOf } from '../../src/report/telling.js';
import { tryRun } from '../support/try-run.js';

describe('turns of make-ready in the handover', () => {
  const run = tryRun({ make_ready: true });
  const turn = (move_mm: number, web_m: number): void => {
    run.put({ type: 'correction', station: '2', axis: 'along', move_mm, teeth: 0, divisions: null, web_m });
  };
  run.check(1, 40, { '2': 0.3, '3': 0, '4': 0, D: 0 });
  turn(-0.3, 41);
  run.check(2, 60, { '2': 0, '3': 0, '4': 0, D: 0 });
  run.put({ type: 'ok', passed_by: 'KM', web_m: 60, zero_m: 60, hold_to: 'aim', check: 2 });
  turn(0.04, 500);
  const gathering = gatherer();
  for (const record of run.records) gathering.take(record, []);
  const view = handoverView(run.state(), gathering.gathered(), Date.parse('2026-11-24T12:00:00Z'), null);

  it('are known from those of the run', () => {
    expect(view.corrections.map((c) => [c.web_m, c.make_ready])).toEqual([
      [-19, true],
      [500, false],
    ]);
  });

  it('stand in one line, and not as turns whose result nobody read', () => {
    const blocks = JSON.stringify(corrections(tellingOf(view)).blocks);
    expect(blocks).toContain('In make-ready one turn was made, of 2 plum; the sample passed for OK to run judges it.');
    expect(blocks.match(/not read yet/g)).toHaveLength(1);
  });
});
