import { describe, expect, it } from 'vitest';
import { sampleOf } from '../../src/practice/sample.js';
import { registerAt, standing } from '../../src/practice/standing.js';
import { isOut, labelsIn, wasteOf } from '../../src/practice/waste.js';
import { beginWorld, stationOf, type World } from '../../src/practice/world.js';
import { checks, exerciseOf, lastSaid, typed } from './sessions.js';

const station = (world: World, id: string) => {
  const found = stationOf(world, id);
  if (found === null) throw new Error(id);
  return found;
};

// Everything here is worked by hand from the exercise's own numbers; the press and what befalls it are invented.
describe('the world', () => {
  it('is the same on every machine: the marks of a seed, to the hundredth', () => {
    const marks = (id: string, seed: number, check: number, web_m: number) =>
      sampleOf(beginWorld(exerciseOf(id, seed)), check, 1, web_m).marks.map((m) => [m.mm.along, m.mm.across]);
    expect(marks('1', 1, 1, 0)).toEqual([
      [0, 0],
      [0.4, 0],
      [-0.02, -0.38],
      [-0.63, 0.03],
      [0.02, -0.04],
    ]);
    expect(marks('1', 2, 1, 0)).not.toEqual(marks('1', 1, 1, 0));
    expect(marks('2', 1, 7, 3500)).toEqual(marks('2', 1, 7, 3500));
  });

  it('a creep is where its rate says, less the reference: 0.035 mm/km from 900 m is 0.0385 at 2 000 m', () => {
    const world = beginWorld(exerciseOf('2'));
    expect(standing(world, station(world, '3'), 'along', 2000)).toBeCloseTo(0.0385, 12);
    // Station 3 stands 6.1 m before the sample place.
    expect(registerAt(world, station(world, '3'), 'along', 2006.1)).toBeCloseTo(0.0385, 12);
  });

  it('a reference that slips ahead reads as everything behind; a tension change grows with the distance', () => {
    const slipped = beginWorld(exerciseOf('3'));
    for (const id of ['2', '3', '4', 'D'])
      expect(registerAt(slipped, station(slipped, id), 'along', 1700)).toBeCloseTo(-0.22, 12);
    const pulled = beginWorld(exerciseOf('4'));
    const unwind = (m: number, path_m: number): number => -0.006 * path_m * (m / 2900) ** 2;
    expect(registerAt(pulled, station(pulled, 'D'), 'along', 2600)).toBeCloseTo(
      -0.055 * 6 + (-0.006 * 7.5 * ((2597.5 - 2100) / 2900) ** 2 - -0.006 * 1.5 * ((2591.5 - 2100) / 2900) ** 2),
      12,
    );
    expect(Math.abs(unwind(2900, 6))).toBeLessThan(0.4);
  });

  it('the bad mark is on one label only', () => {
    const session = typed(exerciseOf('5'), ['next', 'pull', 'next', 'pull', 'again']);
    const { world } = session.game;
    const read = (label: number) => sampleOf(world, 2, label, 1000).marks.find((m) => m.station === '2')?.mm.along ?? 0;
    expect(read(1)).toBeGreaterThan(0.15);
    expect(Math.abs(read(2))).toBeLessThan(0.1);
    expect(isOut(world, 1000)).toBe(false);
  });
});

describe('waste is what the arithmetic says', () => {
  it('a perfect student of exercise 5: 350 m until the knob is turned, and eight samples of 3 m', () => {
    // Slip at 2 180 m, station 4 at 4.9 m before the sample place: out from metre 2 185. Check at 2 500 m, 30 m read: turned at 2 530,
    // so good from metre 2 535. The sample at 2 500 m lies within and is not counted twice.
    const lines = [...checks(5), 'again', 'turn 4 operator 7', ...checks(4), 'run 500'];
    const { world } = typed(exerciseOf('5'), lines).game;
    expect(world.ended).toBe(true);
    expect(wasteOf(world).by).toMatchObject({ 'out of register': 350, sample: 24 });
    expect(wasteOf(world).metres).toBe(374);
  });

  it('a clumsy student who believes the reversed mark: 850 m and seven samples', () => {
    // Toward the mark "gear" the print goes 0.30 to the operator side: 0.60 out, seen at 3 000 m, brought back at 3 030.
    const lines = [...checks(5), 'turn 4 gear 6', ...checks(1), 'turn 4 operator 13', ...checks(3), 'run 500'];
    const { world } = typed(exerciseOf('5'), lines).game;
    expect(wasteOf(world).by).toMatchObject({ 'out of register': 850, sample: 21 });
    expect(wasteOf(world).metres).toBe(871);
  });

  it('make-ready until OK, and the labels on it', () => {
    const lines = ['pull', 'turn 2 retard 21', 'turn 3 operator 7', 'turn 4 advance 31', 'wait', 'pull', 'ok', 'end'];
    const { world } = typed(exerciseOf('1'), lines).game;
    // Station 2 stands 7.3 m before the sample place: told from 8 m on.
    expect(world.ok_m).toBe(8);
    expect(wasteOf({ ...world, web_m: 450 }).metres).toBe(8);
    // 8 m of a repeat of 0.3048 m with 3 around and 4 across: 314.96, rounded up.
    expect(labelsIn(world, 8)).toBe(315);
  });

  it('what is out is waste though nobody read it, a stop costs its start, and a dirty plate counts', () => {
    const { world } = typed(exerciseOf('3'), ['run 5500']).game;
    // Out from metre 1 649 (1 640 + 8.5) to the end.
    expect(wasteOf(world).by['out of register']).toBe(5500 - 1648);
    const washed = typed(exerciseOf('3'), [
      'run 1700',
      'turn 1 retard 11',
      'run 2500',
      'stop',
      'safe',
      'wash 2',
      'start',
      'run 2000',
    ]);
    const { by } = wasteOf(washed.game.world);
    // Dirty from 2 800 + 1000 ÷ 0.9 = 3 911.1 m on, seen 7.3 m later; washed at 4 200 m. 20 m after the start, the first 7 of them dirty still.
    expect(by['dirty plate']).toBe(4207 - 3918);
    expect(by['after a start']).toBe(20 - 7);
  });
});

describe('what a real press would punish is refused, with the reason', () => {
  it('teeth only stopped, made safe, print off; plates and the die only stopped and safe', () => {
    const lines = [
      '!turn 3 retard 1t',
      'stop',
      '!turn 3 retard 1t',
      'safe',
      '!turn 3 retard 1t',
      'off',
      'turn 3 retard 1t',
    ];
    expect(typed(exerciseOf('2'), lines).game.world.done.at(-1)).toMatchObject({
      kind: 'turn',
      teeth: -1,
      got_mm: -3.175,
    });
    expect(lastSaid(typed(exerciseOf('2'), ['!turn 3 retard 1t']))).toMatch(
      /REFUSED.*stop the press.*make it safe.*print off/,
    );
    expect(lastSaid(typed(exerciseOf('2'), ['!wash 2']))).toMatch(/plate is never touched/);
    expect(lastSaid(typed(exerciseOf('2'), ['!turn D retard 1']))).toMatch(/standstill/);
    expect(lastSaid(typed(exerciseOf('2'), ['!safe']))).toMatch(/Stop it first/);
  });

  it('a refusal changes nothing of the press', () => {
    const before = typed(exerciseOf('2'), []);
    const after = typed(exerciseOf('2'), ['!turn 3 retard 1t']);
    expect(after.game).toEqual(before.game);
  });

  it('beyond the knob’s travel, an unknown station, a fixed axis, no number: one message each', () => {
    expect(lastSaid(typed(exerciseOf('2'), ['!turn 3 retard 151']))).toMatch(
      /3\.00 mm left that way \(150 divisions.*3\.02 mm was asked\. Nothing was turned/,
    );
    expect(lastSaid(typed(exerciseOf('2'), ['turn 3 retard 100', '!turn 3 retard 51']))).toMatch(/1\.00 mm left/);
    expect(lastSaid(typed(exerciseOf('2'), ['!turn 7 retard 1']))).toMatch(/no station "7".*1, 2, 3, 4, D/);
    expect(lastSaid(typed(exerciseOf('2'), ['!turn D gear 1']))).toMatch(/cannot be moved side to side/);
    expect(lastSaid(typed(exerciseOf('2'), ['!turn 3 retard x']))).toMatch(/"x" is no number/);
    expect(lastSaid(typed(exerciseOf('2'), ['!tuurn 3 retard 1']))).toMatch(/did you mean turn/);
  });

  it('play is lost once when a knob is reversed: 0.25 asked, 0.20 got, the next 0.05 whole', () => {
    const got = typed(exerciseOf('5'), ['turn 4 operator 5', 'turn 4 operator 1', 'turn 4 gear 1']).game.world.done;
    expect(got.map((d) => (d.kind === 'turn' ? d.got_mm : null))).toEqual([-0.2, -0.05, 0]);
  });
});
