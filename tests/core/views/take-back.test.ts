import { expect, it } from 'vitest';
import type { RecordBody } from '../../../src/core/record.js';
import { admit } from '../../../src/core/run/admit.js';
import { boardView } from '../../../src/core/views/board.js';
import { takeBack } from '../../../src/ui/acts/take-back.js';
import { tryRun } from '../../support/try-run.js';

it('z offers only what may be taken back: every choice it has is admitted', () => {
  const run = tryRun();
  run.check(1, 100, { '2': 0.01, '3': 0, '4': 0.02 });
  run.put({ type: 'note', web_m: 120, text: 'one' });
  run.put({ type: 'ok', web_m: 130, zero_m: null, passed_by: 'MK', check: 1, hold_to: 'aim' });
  run.put({ type: 'seen', web_m: 140 });
  run.put({ type: 'wash', station: '2', web_m: 150 });
  run.put({ type: 'withdraw', check: null, entry: 4, web_m: 160 });
  run.put({ type: 'pull', check: 2, web_m: 170, roll: null, counter: 'keyed', place: null });
  const view = boardView(run.state(), 1_772_000_900_000);
  const context = { view, operator: 'MK', selected: { station: '2', axis: 'along' as const }, nowMs: 0 };
  const opened = takeBack.open(context);
  if (!opened.ok) throw new Error(opened.problem.message);
  const [field] = opened.value.fields;
  const choices = field !== undefined && 'choices' in field ? (field.choices ?? []) : [];
  expect(choices.length).toBeGreaterThan(2);
  for (const { value } of choices) {
    const form = { ...opened.value, fields: opened.value.fields.map((one) => ({ ...one, text: value })) };
    const outcome = takeBack.outcome(form, context);
    if (!outcome.ok) throw new Error(outcome.problem.message);
    const [body] = outcome.value.records as readonly RecordBody[];
    expect(body === undefined ? null : admit(run.state(), body), value).toMatchObject({ ok: true });
  }
});
