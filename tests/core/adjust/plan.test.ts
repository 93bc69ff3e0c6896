import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planMoves } from '../../../src/core/adjust/plan.js';
import { inputOf, knobOf, stationOf } from './press-under-test.js';

describe('the reference moved', () => {
  const crept = [-0.06, -0.06, -0.062, -0.058, -0.06];
  it('turns one knob, the reference, back; the others come right with it', () => {
    const plan = planMoves(inputOf(crept));
    expect(plan.moves).toEqual([
      {
        station: '1',
        axis: 'along',
        move_mm: -0.06,
        turn: 'retard',
        teeth: 0,
        divisions: 3,
        knob: 'retard',
        hand: 'anticlockwise',
        when: 'running',
      },
    ]);
    expect(plan.leaves_mm).toEqual([
      { station: '2', along: 0 },
      { station: '3', along: 0 },
      { station: '4', along: -0.002 },
      { station: '5', along: 0.002 },
      { station: '6', along: 0 },
    ]);
    expect(plan.read_again).toBeUndefined();
  });
  it('waits for a second label, at stations it names', () => {
    const plan = planMoves(inputOf(crept, { second_read: false }));
    expect(plan.moves).toEqual([]);
    // The worst of them, and the one farthest along the web from it.
    expect(plan.read_again).toEqual(['2', '4']);
    expect(plan.read_again).toHaveLength(2);
    expect(plan.read_again).not.toContain('1');
    expect(plan.why).toContain('second label');
  });
  it('does not wait when something is outside tolerance', () => {
    const plan = planMoves(
      inputOf(
        crept.map((x) => x * 3),
        { second_read: false, anything_out: true },
      ),
    );
    expect(plan.moves).toHaveLength(1);
    expect(plan.read_again).toBeUndefined();
  });
  it('moves the others when the reference cannot be moved', () => {
    const input = inputOf(crept);
    const fixed = input.stations.map((s) => (s.id === '1' ? { ...s, fixed: true } : s));
    const plan = planMoves({ ...input, stations: fixed });
    expect(plan.moves.map((m) => m.station)).toEqual(['2', '3', '4', '5', '6']);
    expect(plan.moves.every((m) => m.turn === 'advance')).toBe(true);
  });
});

describe('one station moved', () => {
  const one = (level: number, over = {}, input = {}) => {
    const base = inputOf([0, 0, level, 0], { cause: { kind: 'station', station: '4' }, second_read: false, ...input });
    return { ...base, stations: base.stations.map((s) => (s.id === '4' ? { ...s, ...over } : s)) };
  };
  it('needs no second label', () => {
    expect(planMoves(one(0.09)).moves).toMatchObject([{ station: '4', turn: 'retard', divisions: 4 }]);
    expect(planMoves(one(0.1)).moves).toMatchObject([{ divisions: 5, move_mm: -0.1 }]);
  });
  it('less than half a division is left alone', () => {
    const plan = planMoves(one(0.009));
    expect(plan.moves).toEqual([]);
    expect(plan.why).toContain('leave it alone');
  });
  it('a knob marked the other way round is named by its mark, the hand stays right', () => {
    expect(planMoves(one(0.1, { knob: knobOf({ sense: -1 }) })).moves).toMatchObject([
      { turn: 'retard', knob: 'advance', hand: 'anticlockwise' },
    ]);
  });
  it('not said whether running: at a stop', () => {
    expect(planMoves(one(0.1, { knob: knobOf({ while_running: null }) })).moves).toMatchObject([{ when: 'stop' }]);
  });
  it('no division known: mm and direction only', () => {
    expect(planMoves(one(0.1, { knob: knobOf({ division_mm: null }) })).moves).toMatchObject([
      { divisions: null, move_mm: -0.1, turn: 'retard' },
    ]);
    expect(planMoves(one(0.02, { knob: knobOf({ division_mm: null }) })).moves).toEqual([]);
  });
  it('a direction not proved asks for one division first', () => {
    expect(planMoves(one(0.1, { proved: false })).why).toContain('turn one division first');
  });
  it('a jumped tooth goes back by a tooth, at a stop; what is more than scatter goes to the knob', () => {
    expect(planMoves(one(3.195, {}, { anything_out: true })).moves).toMatchObject([
      { teeth: 1, divisions: 0, turn: 'retard', when: 'stop' },
    ]);
    expect(planMoves(one(3.275, {}, { anything_out: true })).moves).toMatchObject([{ teeth: 1, divisions: 5 }]);
  });
  it('a spent knob: a tooth retard and divisions advance, each with its own sign', () => {
    expect(planMoves(one(0.125, { knob: knobOf({ division_mm: 0.05 }), used_mm: -3 })).moves).toMatchObject([
      { turn: 'retard', teeth: 1, divisions: -61, when: 'stop' },
    ]);
  });
  it('a learned knob is asked for more when it gives less, and the reading afterwards is what it gives', () => {
    const plan = planMoves(one(0.16, { gain: { plus: 1, minus: 0.8 } }));
    expect(plan.moves).toMatchObject([{ divisions: 10, move_mm: -0.2 }]);
    expect(plan.leaves_mm).toContainEqual({ station: '4', along: 0 });
  });
  it('was only looked at: nothing to turn by', () => {
    expect(planMoves(one(0, { level_mm: null })).moves).toEqual([]);
    expect(planMoves(one(0, { level_mm: null })).why).toContain('not measured');
  });
});

describe('the web', () => {
  const strained = [-0.03, -0.06, -0.09, -0.12];
  it('tension, dryer, stock before any knob, and says why', () => {
    const plan = planMoves(inputOf(strained, { cause: { kind: 'web' }, anything_out: true }));
    expect(plan.moves).toEqual([]);
    expect(plan.why).toMatch(/tension.*dryer.*stock/);
  });
  it('knobs only when the web was seen to', () => {
    const plan = planMoves(inputOf(strained, { cause: { kind: 'web' }, web_checked: true, anything_out: true }));
    expect(plan.moves.length).toBeGreaterThan(0);
  });
});

describe('what cannot be moved', () => {
  const die = (level: number, cause: 'station' | 'several' = 'station') => {
    const base = inputOf([0, 0, 0], {
      axis: 'across',
      cause: cause === 'station' ? { kind: 'station', station: 'D' } : { kind: 'several', stations: ['3', 'D'] },
      anything_out: true,
    });
    return {
      ...base,
      stations: [...base.stations, stationOf('D', level, { kind: 'die', fixed: true, tolerance_mm: 0.4 })],
    };
  };
  it('a fixed die inside its own tolerance is left', () => {
    const plan = planMoves(die(0.3));
    expect(plan.moves).toEqual([]);
    expect(plan.why).toContain('leave it');
  });
  it('a fixed die outside: every print station alike, the reference too, at a stop, and the product until then is waste', () => {
    const plan = planMoves(die(0.5));
    expect(plan.moves.map((m) => m.station)).toEqual(['1', '2', '3', '4']);
    expect(plan.moves.every((m) => m.move_mm === 0.5 && m.turn === 'to operator side' && m.when === 'stop')).toBe(true);
    expect(plan.leaves_mm).toEqual([
      { station: '2', across: 0 },
      { station: '3', across: 0 },
      { station: '4', across: 0 },
      { station: 'D', across: 0 },
    ]);
    expect(plan.why).toContain('waste');
  });
  it('a fixed station is never told to move, whatever the levels and the cause', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 3, maxLength: 6 }),
        fc.nat(5),
        fc.constantFrom('station', 'reference', 'several', 'web'),
        (levels, at, kind) => {
          const fixed = String((at % levels.length) + 2);
          const cause =
            kind === 'station'
              ? ({ kind, station: fixed } as const)
              : kind === 'several'
                ? ({ kind, stations: ['2', '3', fixed] } as const)
                : kind === 'web'
                  ? ({ kind } as const)
                  : ({ kind: 'reference' } as const);
          const base = inputOf(levels, { cause, web_checked: true, anything_out: true });
          const plan = planMoves({
            ...base,
            stations: base.stations.map((s) => (s.id === fixed ? { ...s, fixed: true } : s)),
          });
          expect(plan.moves.map((m) => m.station)).not.toContain(fixed);
        },
      ),
    );
  });
});

describe('several, and pairs', () => {
  it('one knob beats five: all alike but one is the reference and that one', () => {
    const plan = planMoves(
      inputOf([0.1, 0.1, 0.1, 0.1, 0.3], {
        cause: { kind: 'several', stations: ['2', '3', '4', '5', '6'] },
        anything_out: true,
      }),
    );
    expect(plan.moves).toMatchObject([
      { station: '1', turn: 'advance', divisions: 5 },
      { station: '6', turn: 'retard', divisions: 10 },
    ]);
  });
  it('two stations wait for a second label', () => {
    const plan = planMoves(
      inputOf([0.1, 0, -0.1, 0], { cause: { kind: 'several', stations: ['2', '4'] }, second_read: false }),
    );
    expect(plan.moves).toEqual([]);
    expect(plan.read_again).toEqual(['2', '4']);
  });
  it('a pair that traps is brought in by the one with less to go', () => {
    const plan = planMoves(
      inputOf([0.05, -0.1, 0], {
        cause: { kind: 'station', station: '2' },
        pairs: [{ stations: ['2', '3'], tolerance_mm: 0.12 }],
        pair: ['2', '3'],
        anything_out: true,
      }),
    );
    expect(plan.moves).toHaveLength(1);
    // 2 at its aim would leave the pair 0.10 apart, inside; 3 has twice as far to go.
    expect(plan.moves).toMatchObject([{ station: '2' }]);
  });
  it('by the other one when the first is fixed', () => {
    const base = inputOf([0.14, 0, 0], {
      cause: { kind: 'station', station: '2' },
      pairs: [{ stations: ['2', '3'], tolerance_mm: 0.12 }],
      pair: ['2', '3'],
      anything_out: true,
    });
    const plan = planMoves({ ...base, stations: base.stations.map((s) => (s.id === '2' ? { ...s, fixed: true } : s)) });
    expect(plan.moves).toMatchObject([{ station: '3', turn: 'advance' }]);
  });
});

describe('helical gears', () => {
  it('a side move says by how much along moves with it', () => {
    const plan = planMoves(
      inputOf([0, 0.2], {
        axis: 'across',
        cause: { kind: 'station', station: '3' },
        helix_deg: 15,
        anything_out: true,
      }),
    );
    expect(plan.why).toContain('Helical');
    expect(plan.why).toContain('0.05 mm');
  });
});

describe('for any levels', () => {
  const levels = fc.array(
    fc.integer({ min: -40, max: 40 }).map((n) => n / 100),
    { minLength: 2, maxLength: 7 },
  );
  const causes = fc.constantFrom('reference', 'several', 'station');
  const causeOf = (kind: string, n: number) =>
    kind === 'station'
      ? ({ kind: 'station', station: '2' } as const)
      : kind === 'several'
        ? ({ kind: 'several', stations: ['2', String(n + 1)] } as const)
        : ({ kind: 'reference' } as const);
  it('the unit words are said in changes no move', () => {
    fc.assert(
      fc.property(levels, causes, fc.constantFrom('in', 'thou', '64ths'), (x, kind, unit) => {
        const input = inputOf(x, { cause: causeOf(kind, x.length), anything_out: true });
        expect(planMoves({ ...input, unit }).moves).toEqual(planMoves(input).moves);
      }),
    );
  });
  it('mirrored levels give the mirrored moves', () => {
    fc.assert(
      fc.property(levels, causes, (x, kind) => {
        const cause = causeOf(kind, x.length);
        const a = planMoves(inputOf(x, { cause, anything_out: true })).moves;
        const b = planMoves(
          inputOf(
            x.map((v) => -v),
            { cause, anything_out: true },
          ),
        ).moves;
        expect(b.map((m) => [m.station, m.move_mm + 0])).toEqual(a.map((m) => [m.station, -m.move_mm + 0]));
      }),
    );
  });
  it('other names for the stations give the same moves under the other names', () => {
    fc.assert(
      fc.property(levels, causes, (x, kind) => {
        const base = inputOf(x, { cause: causeOf(kind, x.length), anything_out: true });
        const alias = (id: string): string => `unit ${'zyxwvutsr'[Number(id) - 1]}`;
        const cause =
          base.cause.kind === 'station'
            ? { ...base.cause, station: alias(base.cause.station) }
            : base.cause.kind === 'several'
              ? { ...base.cause, stations: base.cause.stations.map(alias) }
              : base.cause;
        const renamed = planMoves({
          ...base,
          cause,
          reference: alias('1'),
          stations: base.stations.map((s) => ({ ...s, id: alias(s.id) })),
        });
        expect(renamed.moves).toEqual(planMoves(base).moves.map((m) => ({ ...m, station: alias(m.station) })));
      }),
    );
  });
  it('what it says will be read adds up from the moves', () => {
    fc.assert(
      fc.property(levels, causes, (x, kind) => {
        const plan = planMoves(inputOf(x, { cause: causeOf(kind, x.length), anything_out: true }));
        const by = (id: string): number => plan.moves.find((m) => m.station === id)?.move_mm ?? 0;
        for (const left of plan.leaves_mm) {
          expect(left.along).toBeCloseTo((x[Number(left.station) - 2] ?? 0) + by(left.station) - by('1'), 9);
        }
      }),
    );
  });
});
