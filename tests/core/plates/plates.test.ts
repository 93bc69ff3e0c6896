import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Flaw, NO_FLAW } from '../../../src/core/plates/flaw.js';
import { initialPlates, learnedPlates, noteWash, plateViews } from '../../../src/core/plates/plates.js';
import { WASH_CAUTION } from '../../../src/core/plates/wash-caution.js';
import { config, count, fold, grade, type Step } from './look.js';

const clean = (web_m: number): Step => ({
  web_m,
  seen: config.stations.map((station) => ({ station, grade: 'clean' as const })),
});

describe('grades', () => {
  it('all clean says nothing', () => expect(fold([clean(100), clean(200), clean(300)]).findings).toEqual([]));
  it('dirty is flagged at once', () => {
    const { findings } = fold([clean(100), grade('3', 'dirty', 200)]);
    expect(findings).toMatchObject([{ check: 2, station: '3', state: 'dirty' }]);
  });
  it('one "building" is weak, two in a row are not', () => {
    const { findings, state } = fold([clean(100), grade('3', 'building', 200), grade('3', 'building', 300)]);
    expect(findings).toMatchObject([{ check: 3, station: '3', state: 'building' }]);
    expect(plateViews(config, state)[2]).toMatchObject({ flag: 'building', since: { check: 2, web_m: 200 } });
    expect(fold([grade('3', 'building', 200), grade('3', 'clean', 300), grade('3', 'building', 400)]).findings).toEqual(
      [],
    );
  });
  it('is said once, and again when it gets worse', () => {
    const { findings } = fold([
      grade('3', 'building', 100),
      grade('3', 'building', 200),
      grade('3', 'building', 300),
      grade('3', 'dirty', 400),
      grade('3', 'dirty', 500),
    ]);
    expect(findings.map((f) => [f.check, f.state])).toEqual([
      [2, 'building'],
      [4, 'dirty'],
    ]);
  });
  it('a plate not looked at keeps what was known', () => {
    const { state } = fold([grade('3', 'dirty', 100), grade('2', 'clean', 200)]);
    expect(plateViews(config, state)[2]).toMatchObject({ grade: 'dirty', flag: 'dirty' });
  });
  it('several plates together point to ink and drying, one to itself', () => {
    const together = fold([
      { web_m: 100, seen: ['1', '2', '3', '4'].map((station) => ({ station, grade: 'dirty' as const })) },
    ]);
    expect(together.findings.every((f) => f.why.includes('ink and drying'))).toBe(true);
    expect(
      fold([
        { web_m: 100, seen: [{ station: '2', grade: 'dirty', flaw: { kind: 'fill-in', edge: null, comes: null } }] },
      ]).findings[0]?.why,
    ).toMatch(/that plate or its anilox.*leading edge/);
  });
});

describe('what the flaw is', () => {
  const fillIn = { kind: 'fill-in', edge: 'leading', comes: 'same place' } as const;
  const dirty = (web_m: number, flaw: Flaw): Step => ({ web_m, seen: [{ station: '3', grade: 'dirty', flaw }] });

  it('stands in why, with where to look, and is kept until it is said anew or the plate is clean', () => {
    const { findings, state } = fold([clean(100), dirty(200, fillIn)]);
    expect(findings[0]?.why).toBe(
      'Graded dirty. Fill-in at the leading edge, same place every repeat. Once a repeat at the same place: it sits on the plate or its cylinder. Filling in at the leading edge is ink drying in as a rule. Stop for the wash: product is to hold until it is seen clean.',
    );
    expect(plateViews(config, state)[2]).toMatchObject({
      flaw: fillIn,
      cause: expect.stringContaining('leading edge'),
    });
    const later = fold([dirty(200, fillIn), dirty(300, { ...NO_FLAW, edge: 'trailing' })]).state;
    expect(plateViews(config, later)[2]?.flaw).toEqual({ ...fillIn, edge: 'trailing' });
    expect(plateViews(config, fold([dirty(200, fillIn), clean(300)]).state)[2]?.flaw).toEqual(NO_FLAW);
  });
  it('answered with a grade, the question whether it is the plate is not asked again', () => {
    const quiet = Array.from({ length: 20 }, (_, i) => count('3', 1, 5, (i + 1) * 100));
    const asked = fold([...quiet, count('3', 14, 5, 2100)]).findings[0]?.why;
    const step = (flaw: Flaw): Step => ({
      web_m: 2100,
      seen: [{ station: '3', grade: 'building', flaws: 14, labels: 5, flaw }],
    });
    expect(asked).toContain('Does the flaw come back at the same place every repeat?');
    for (const [comes, words] of [
      ['moves', 'The flaw moves: debris.'],
      ['same place', 'The flaw comes back at the same place every repeat: the plate.'],
    ] as const) {
      const why = fold([...quiet, step({ ...NO_FLAW, comes })]).findings[0]?.why ?? '';
      expect(why).toContain(words);
      expect(why).not.toContain('?');
    }
  });
  it('debris says nothing of how long a plate runs clean', () => {
    const lived = (flaw: Flaw) => {
      const { state } = fold([clean(2000), clean(4000), dirty(6000, flaw), { wash: '3', web_m: 6100 }]);
      return learnedPlates(state)['3']?.lives;
    };
    expect(lived(fillIn)).toEqual([{ from_m: 4000, to_m: 6000 }]);
    expect(lived({ ...NO_FLAW, comes: 'moves' })).toEqual([{ from_m: 4000, to_m: null }]);
  });
});

describe('when to wash', () => {
  it('dirty: a stop; building: at the stop that comes anyway, else the next', () => {
    const building = (stop?: number): Step[] => [
      grade('3', 'building', 100),
      { web_m: 200, seen: [{ station: '3', grade: 'building' }], ...(stop === undefined ? {} : { stop }) },
    ];
    expect(fold([grade('3', 'dirty', 100)]).findings[0]?.why).toContain('Stop for the wash');
    expect(fold(building(1800)).findings[0]?.why).toContain('Wash at the roll change, about 1 800 m.');
    expect(fold(building()).findings[0]?.why).toContain('Wash at the next stop.');
    for (const word of ['stopped and made safe', 'safety sheets', 'Site procedure'])
      expect(WASH_CAUTION).toContain(word);
  });
});

describe('washes', () => {
  it('clears the flag, and a clean look printed since says it helped', () => {
    const { state, findings } = fold([grade('3', 'dirty', 100), { wash: '3', web_m: 110 }, grade('3', 'clean', 200)]);
    expect(plateViews(config, state)[2]).toMatchObject({
      flag: null,
      grade: 'clean',
      last_wash_m: 110,
      wash_helped: true,
    });
    expect(findings).toHaveLength(1);
  });
  it('what was printed before the wash judges nothing', () => {
    const { state } = fold([grade('3', 'dirty', 100), { wash: '3', web_m: 110 }, grade('3', 'dirty', 115)]);
    expect(plateViews(config, state)[2]).toMatchObject({ flag: null, wash_helped: null });
  });
  it('still building after it: it did not help, and that is said', () => {
    const { state, findings } = fold([
      grade('3', 'dirty', 100),
      { wash: '3', web_m: 110 },
      grade('3', 'building', 200),
    ]);
    expect(plateViews(config, state)[2]).toMatchObject({ flag: 'building', wash_helped: false });
    expect(findings[1]?.why).toContain('did not help');
  });
  it('one key washes all', () => {
    const { state } = fold([
      {
        web_m: 100,
        seen: [
          { station: '2', grade: 'dirty' },
          { station: '3', grade: 'dirty' },
        ],
      },
      { wash: 'all', web_m: 110 },
    ]);
    expect(plateViews(config, state).map((v) => v.flag)).toEqual([null, null, null, null, null, null]);
    expect(plateViews(config, state).every((v) => v.last_wash_m === 110)).toBe(true);
  });
  it('of a plate never looked at changes no one else', () => {
    expect(noteWash(initialPlates(), '3', 50).stations['2']).toBeUndefined();
  });
});

describe('counts', () => {
  const quiet = (n: number, from = 0): Step[] =>
    Array.from({ length: n }, (_, i) => count('3', i % 5 === 0 ? 2 : 1, 5, (from + i + 1) * 100));
  it('a steady rate says nothing', () => expect(fold(quiet(40)).findings).toEqual([]));
  it('one count far beyond its exact limit is flagged at once', () => {
    const { findings } = fold([...quiet(20), count('3', 14, 5, 2100)]);
    expect(findings).toMatchObject([{ check: 21, station: '3', state: 'building' }]);
  });
  it('a rise that no single count shows is found, with when it began', () => {
    const { findings, state } = fold([
      ...quiet(20),
      ...[4, 5, 4, 5].map((flaws, i) => count('3', flaws, 5, 2100 + i * 100)),
    ]);
    expect(findings).toHaveLength(1);
    expect(findings[0]?.why).toContain('same place every repeat');
    expect(plateViews(config, state)[2]?.since?.check).toBe(21);
  });
  it('a "building" beside a raised count is more than either', () => {
    const raised = [...quiet(20), count('3', 5, 5, 2100)];
    const both: Step[] = [...raised, { web_m: 2200, seen: [{ station: '3', flaws: 5, labels: 5, grade: 'building' }] }];
    expect(fold([...raised, count('3', 5, 5, 2200)]).findings).toEqual([]);
    expect(fold(both).findings).toMatchObject([{ check: 22 }]);
  });
  it('more labels is more evidence for the same rate', () => {
    const few = fold([...quiet(20), count('3', 5, 5, 2100)]).state.stations['3'];
    const many = fold([...quiet(20), count('3', 50, 50, 2100)]);
    expect(few?.flag).toBeNull();
    expect(many.findings).toHaveLength(1);
  });
});

describe('mark strength off a sensor', () => {
  const looks = (values: readonly number[]): Step[] =>
    values.map((strength, i) => ({ web_m: (i + 1) * 100, seen: [{ station: '3', strength }] }));
  const steady = Array.from({ length: 20 }, (_, i) => 0.8 + (i % 2 === 0 ? 0.02 : -0.02));
  it('falling is told, rising is not', () => {
    expect(fold(looks([...steady, 0.65, 0.65, 0.65])).findings[0]?.why).toContain('strength has fallen');
    expect(fold(looks([...steady, 0.95, 0.95, 0.95])).findings).toEqual([]);
    expect(fold(looks(steady)).findings).toEqual([]);
  });
});

describe('how long a plate runs clean', () => {
  // Three lives seen dirty between 8 and 10 km of a wash, checks every 2 km: an invented plate.
  const lives = (n: number): Step[] =>
    Array.from({ length: n }, (_, life) => {
      const start = life * 11000;
      return [2000, 4000, 6000, 8000]
        .map((m) => grade('3', 'clean', start + m))
        .concat([grade('3', 'dirty', start + 10000), { wash: '3', web_m: start + 11000 }]);
    }).flat();
  it('is learned from one wash to the next, and carried to the next run', () => {
    const { state } = fold(lives(3));
    expect(learnedPlates(state)['3']?.lives).toEqual([
      { from_m: 8000, to_m: 10000 },
      { from_m: 8000, to_m: 10000 },
      { from_m: 8000, to_m: 10000 },
    ]);
    const fresh = fold(
      [{ ...clean(8000), next: 10000 } as Step],
      {},
      initialPlates(learnedPlates(fold(lives(6)).state)),
    );
    const views = plateViews(config, fresh.state);
    expect(views[2]?.p_dirty_next ?? 0).toBeGreaterThan(0.5);
    expect(views[1]?.p_dirty_next ?? 1).toBeLessThan(0.3);
  });
  it('asks for a wash at a stop that is coming, once', () => {
    const learned = initialPlates(learnedPlates(fold(lives(3)).state));
    const at = (web_m: number): Step => ({
      web_m,
      seen: [{ station: '3', grade: 'clean' }],
      next: web_m + 2000,
      stop: web_m + 1500,
    });
    const { findings } = fold([at(2000), at(4000), at(6000), at(7000), at(8000)], { roll_change: 'stops' }, learned);
    expect(findings.map((f) => f.state)).toEqual(['wash-due']);
    expect(findings[0]?.why).toContain('the roll change');
  });
  it('never asks before plates were seen to get dirty', () => {
    const far: Step[] = Array.from(
      { length: 30 },
      (_, i) => ({ ...clean((i + 1) * 2000), next: (i + 2) * 2000, stop: (i + 1) * 2000 + 500 }) as Step,
    );
    expect(fold(far).findings).toEqual([]);
  });
});

describe('for any looks', () => {
  const looks = fc.array(
    fc.record({
      station: fc.constantFrom('1', '3', '6'),
      grade: fc.constantFrom('clean', 'building', 'dirty', null),
      flaws: fc.option(fc.nat(9), { nil: null }),
    }),
    { maxLength: 25 },
  );
  const steps = (
    list: readonly { station: string; grade: 'clean' | 'building' | 'dirty' | null; flaws: number | null }[],
  ): Step[] =>
    list.map(({ station, grade: g, flaws }, i) => ({
      web_m: (i + 1) * 500,
      seen: [{ station, grade: g, flaws, labels: flaws === null ? null : 5 }],
    }));
  it('other names for the plates give the same verdicts under the other names', () => {
    fc.assert(
      fc.property(looks, (list) => {
        const alias = (id: string): string => `p${9 - Number(id)}`;
        const plain = fold(steps(list)).findings;
        const renamed = fold(steps(list.map((one) => ({ ...one, station: alias(one.station) }))), {
          stations: config.stations.map(alias),
        }).findings;
        expect(renamed).toEqual(plain.map((f) => ({ ...f, station: alias(f.station) })));
      }),
    );
  });
  it('survives a trip through JSON', () => {
    fc.assert(
      fc.property(looks, fc.nat(25), (list, cut) => {
        const all = steps(list);
        const first = fold(all.slice(0, cut));
        const rest = fold(all.slice(cut), {}, JSON.parse(JSON.stringify(first.state)));
        expect(rest.state).toEqual(fold(all.slice(cut), {}, first.state).state);
      }),
    );
  });
});
