import { describe, expect, it } from 'vitest';
import { sitDown } from './desk.js';
import { drifting, ended, makeReady, move, out, quiet } from './fixtures.js';

describe('acts', () => {
  it('offers the advised move; k and Enter put it on record', async () => {
    const desk = sitDown(drifting());
    await desk.keys('k');
    expect(desk.see()).toContain('You RETARDED 4 grey 2 divisions (0.10 mm) at 21 450 m?');
    await desk.keys('[enter]');
    expect(desk.port.submitted).toEqual([
      {
        type: 'correction',
        station: '4',
        axis: 'along',
        move_mm: -0.1,
        teeth: 0,
        divisions: -2,
        web_m: 21_450,
        counter: 'estimated',
      },
    ]);
    expect(desk.count()).toBe(2);
    expect(desk.see()).toContain('A sample tells from 21 457 m on');
  });

  it('lets the divisions be changed before Enter', async () => {
    const desk = sitDown(drifting());
    await desk.keys('k3');
    expect(desk.see()).toContain('RETARDED 4 grey 3 divisions (0.15 mm)');
    await desk.keys('[enter]');
    expect(desk.port.submitted[0]).toMatchObject({ divisions: -3, move_mm: -0.15 });
  });

  it('takes whole teeth with divisions back from them, as advised', async () => {
    const view = drifting();
    const desk = sitDown({
      ...view,
      instruction: { ...view.instruction, moves: [move({ teeth: 1, divisions: -3, move_mm: -3.025, when: 'stop' })] },
    });
    await desk.keys('k');
    expect(desk.see()).toMatch(/RETARDED 4 grey 1 tooth and back 3 divisions \(3\.0[23] mm\)/);
    expect(desk.see()).toContain('press stopped and made safe');
    await desk.keys('[enter]');
    // 1 tooth of 1/8 in CP is 3.175 mm; 3 divisions of 0.05 mm back from it.
    expect(desk.port.submitted[0]).toMatchObject({ teeth: -1, divisions: 3, move_mm: -3.025 });
  });

  it('walks through several advised moves one after the other', async () => {
    const view = drifting();
    const moves = [move({ station: '1' }), move({ station: '5', turn: 'advance', divisions: 1, move_mm: 0.05 })];
    const desk = sitDown({ ...view, instruction: { ...view.instruction, moves } });
    await desk.keys('k');
    expect(desk.see(120, 40)).toContain('(1 more advised after it)');
    await desk.keys('[enter]');
    expect(desk.see()).toContain('You ADVANCED 5 black 1 division (0.05 mm)');
    await desk.keys('[enter]');
    expect(desk.port.submitted.map((one) => (one.type === 'correction' ? [one.station, one.move_mm] : null))).toEqual([
      ['1', -0.1],
      ['5', 0.05],
    ]);
  });

  it('across, the words are sides, and gear teeth are not asked', async () => {
    const desk = sitDown(quiet());
    await desk.keys('ak');
    expect(desk.see()).not.toContain('teeth');
    await desk.keys('2[enter]');
    expect(desk.port.submitted[0]).toMatchObject({ axis: 'across', move_mm: 0.1, divisions: 2, teeth: 0 });
  });

  it('refuses to move what is fixed', async () => {
    const desk = sitDown(quiet());
    await desk.keys('7ak2[enter]');
    expect(desk.see()).toContain('die is fixed across');
    expect(desk.port.submitted).toEqual([]);
  });

  it('Esc puts nothing on record', async () => {
    const desk = sitDown(drifting());
    await desk.keys('k[esc]r[esc]x[esc]w[esc]');
    expect(desk.port.submitted).toEqual([]);
  });

  it('roll off: the number offered is the running one', async () => {
    const desk = sitDown(quiet());
    await desk.keys('r');
    expect(desk.see()).toContain('Finished roll 10 came OFF at 21 450 m?');
    await desk.keys('[enter]');
    expect(desk.port.submitted).toEqual([{ type: 'finished', web_m: 21_450, counter: 'estimated', roll: '10' }]);
  });

  it('new stock, stop, start, wash, end', async () => {
    const desk = sitDown(quiet());
    await desk.keys('u4000[enter]x[enter]x[tab]100[enter]4w[enter]e[enter]');
    expect(desk.port.submitted).toEqual([
      { type: 'roll', web_m: 21_450, counter: 'estimated', length_m: 4000 },
      { type: 'stop', web_m: 21_450, counter: 'estimated' },
      { type: 'start', web_m: 21_450, counter: 'estimated', m_per_min: 100 },
      { type: 'wash', station: '4', web_m: 21_450, counter: 'estimated' },
      { type: 'end', web_m: 21_450, counter: 'estimated' },
    ]);
  });

  it('a job in feet is keyed in feet, counter and speed', async () => {
    const desk = sitDown(
      quiet({
        units: { register: 'thou', length: 'ft' },
        phase: 'stopped',
        position: { web_m: 304.8, counter_minus_web_m: 0, estimated: false, age_s: 0, speed_m_min: null },
      }),
    );
    await desk.keys('x');
    expect(desk.see()).toContain('at 1 000 ft?');
    await desk.keys('2000[tab]400[enter]');
    expect(desk.port.submitted).toEqual([{ type: 'start', web_m: 609.6, m_per_min: 121.92 }]);
  });

  it('a speed that stood there already is not put on record again', async () => {
    const desk = sitDown(quiet());
    await desk.keys('v[enter]v[tab]118[enter]v[tab]90[enter]');
    expect(desk.port.submitted.map((one) => (one.type === 'speed' ? one.m_per_min : one.type))).toEqual([
      'position',
      'position',
      'position',
      90,
    ]);
  });

  it('counters are as the press shows them', async () => {
    const desk = sitDown(
      quiet({ position: { web_m: 1000, counter_minus_web_m: 500, estimated: false, age_s: 0, speed_m_min: 100 } }),
    );
    await desk.keys('r');
    expect(desk.see()).toContain('at 1 500 m?');
    await desk.keys('[tab]1600[enter]');
    expect(desk.port.submitted[0]).toMatchObject({ web_m: 1100 });
  });

  it('an untouched counter is taken exactly, so that the web never goes back by a rounding', async () => {
    const desk = sitDown(
      quiet({ position: { web_m: 21_450.4, counter_minus_web_m: 0, estimated: true, age_s: 5, speed_m_min: 118 } }),
    );
    await desk.keys('pr[enter]x21460[enter]');
    expect(desk.port.submitted.map((one) => ('web_m' in one ? one.web_m : null))).toEqual([21_450.4, 21_450.4, 21_460]);
  });

  it('a counter set anew keeps the web position', async () => {
    const desk = sitDown(
      quiet({ position: { web_m: 1000, counter_minus_web_m: 0, estimated: false, age_s: 0, speed_m_min: 100 } }),
    );
    await desk.keys('v0[tab][tab][right][enter]');
    expect(desk.port.submitted).toEqual([{ type: 'counter', offset_m: 1000, web_m: 1000 }]);
  });

  it('in make-ready, with all turned and the counter where it was, a pull asks where the sample was taken', async () => {
    const view = makeReady();
    const at = { ...view.position, web_m: 120 };
    const turned = sitDown({ ...view, position: at, instruction: { ...view.instruction, tells_from_m: 132 } });
    await turned.keys('p');
    expect(turned.see()).toContain('Sample 1 pulled at 120 m?');
    expect(turned.port.submitted).toEqual([]);
    const further = sitDown({
      ...view,
      position: { ...at, web_m: 150 },
      instruction: { ...view.instruction, tells_from_m: 132 },
    });
    await further.keys('p');
    expect(further.port.submitted).toMatchObject([{ type: 'pull', web_m: 150 }]);
  });

  it('OK to run is refused without a full check, in words', async () => {
    const desk = sitDown(makeReady());
    await desk.keys('o');
    expect(desk.see()).toContain('A full check is needed first');
    expect(desk.port.submitted).toEqual([]);
  });

  it('OK to run asks who passed it and what it is held to', async () => {
    const desk = sitDown({
      ...makeReady(),
      ok_to_run: { possible: true, why: '' },
      position: { web_m: 1200, counter_minus_web_m: 0, estimated: false, age_s: 5, speed_m_min: null },
    });
    await desk.keys('o[enter]');
    expect(desk.see()).toContain('Key who passed it');
    await desk.keys('Paul[tab][right][tab]118[enter]');
    expect(desk.port.submitted).toEqual([
      { type: 'ok', web_m: 1200, zero_m: 1200, passed_by: 'Paul', check: null, hold_to: 'sample' },
      { type: 'speed', web_m: 0, m_per_min: 118 },
    ]);
  });

  it('OK to run given again moves no zero', async () => {
    const desk = sitDown(quiet());
    await desk.keys('oPaul[enter]');
    expect(desk.port.submitted[0]).toMatchObject({ type: 'ok', zero_m: null, check: 11, hold_to: 'aim' });
  });

  it('plate, die, reference and tolerance', async () => {
    const desk = sitDown(quiet());
    await desk.keys('4b[enter]b[right][enter]3b[right][right][enter]2bt[tab][tab]12[enter]');
    expect(desk.port.submitted).toEqual([
      { type: 'plate', station: '4', web_m: 21_450, counter: 'estimated' },
      { type: 'die', web_m: 21_450, counter: 'estimated' },
      { type: 'reference', station: '3', web_m: 21_450, counter: 'estimated' },
      { type: 'tolerance', web_m: 21_450, counter: 'estimated', station: '2', along_mm: 0.12, across_mm: null },
    ]);
  });

  it('seen is one key, a note two', async () => {
    const desk = sitDown(out());
    await desk.keys('snplate 4 looks grey[enter]');
    expect(desk.port.submitted.map((one) => one.type)).toEqual(['seen', 'note']);
    expect(desk.port.submitted[1]).toMatchObject({ text: 'plate 4 looks grey' });
  });

  it('takes back an entry, the newest offered first', async () => {
    const desk = sitDown(quiet());
    await desk.keys('z');
    expect(desk.see()).toContain('TAKE BACK "check 11 off roll 9: 5 read"?');
    await desk.keys('[down][enter]');
    expect(desk.port.submitted[0]).toMatchObject({ type: 'withdraw', entry: 31 });
  });

  it('shift change names who has the run from here on', async () => {
    const desk = sitDown(quiet());
    await desk.keys('tBert[enter]');
    expect(desk.port.submitted[0]).toMatchObject({ type: 'shift', outgoing: 'Anna', incoming: 'Bert' });
    expect(desk.port.operator()).toBe('Bert');
  });

  it('keeps the field when the record cannot be written', async () => {
    const desk = sitDown(quiet());
    desk.port.breakWith('the disk is full');
    await desk.keys('nwatch the brake[enter]');
    expect(desk.see()).toContain('NOT SAVED: the disk is full');
    expect(desk.see()).toContain('watch the brake');
    desk.port.breakWith(null);
    await desk.keys('[enter]');
    expect(desk.port.submitted[0]).toMatchObject({ type: 'note', text: 'watch the brake' });
  });

  it('a second board only looks, and says who holds the run', async () => {
    const desk = sitDown(drifting(), { readOnly: 'Bert holds this run since 13:02.' });
    await desk.keys('pckrs');
    expect(desk.port.submitted).toEqual([]);
    expect(desk.see()).toContain('Bert holds this run since 13:02.');
  });

  it('an ended run takes nothing more, but can be read', async () => {
    const desk = sitDown(ended());
    await desk.keys('pckr');
    expect(desk.port.submitted).toEqual([]);
    expect(desk.see()).toContain('The run has ended');
    await desk.keys('h');
    expect(desk.see()).toContain('of the handover');
  });

  it('quit is confirmed; Ctrl-C twice is a way out that always works', async () => {
    const desk = sitDown(quiet());
    await desk.keys('q[esc]');
    expect(desk.port.left).toEqual([]);
    await desk.keys('q[enter]');
    expect(desk.port.left).toEqual([0]);
    const other = sitDown(quiet());
    await other.keys('[ctrl-c][ctrl-c]');
    expect(other.port.left).toEqual([130]);
  });
});

describe('a sample pulled', () => {
  it('is stamped at once with counter, age and roll', async () => {
    const desk = sitDown(quiet());
    await desk.keys('p');
    expect(desk.port.submitted).toEqual([
      { type: 'pull', check: 12, web_m: 21_450, roll: '10', counter: 'estimated', age_s: 95, place: null },
    ]);
    expect(desk.see()).toContain('arrow');
  });

  it('just after a roll came off it is from that roll', async () => {
    const desk = sitDown(quiet({ finished_roll: { running: '11', last_off: '10', since_m: 3 } }));
    await desk.keys('p');
    expect(desk.port.submitted[0]).toMatchObject({ roll: '10' });
  });

  it('asks the counter on a press that runs at no known speed', async () => {
    const desk = sitDown(
      quiet({ position: { web_m: 1000, counter_minus_web_m: 0, estimated: true, age_s: 900, speed_m_min: null } }),
    );
    await desk.keys('p');
    expect(desk.port.submitted).toEqual([]);
    expect(desk.see()).toContain('counter');
  });
});

describe('a counter field that nobody touched', () => {
  it('stamps a reckoned place while the press runs, and a keyed one as read', async () => {
    const desk = sitDown(quiet());
    await desk.keys('r[enter]');
    expect(desk.port.submitted).toMatchObject([{ type: 'finished', web_m: 21_450, counter: 'estimated' }]);
    const keyed = sitDown(quiet());
    await keyed.keys('r[tab]21440[enter]');
    expect(keyed.port.submitted).toEqual([{ type: 'finished', web_m: 21_440, roll: '10' }]);
  });
});

describe('a knob whose division was never measured', () => {
  const bare = (over = {}) => {
    const view = drifting();
    return sitDown({
      ...view,
      stations: view.stations.map((one) => ({
        ...one,
        knob: { along: { ...one.knob.along, division_mm: null }, across: { ...one.knob.across, division_mm: null } },
      })),
      instruction: { ...view.instruction, moves: [move({ divisions: null, ...over })] },
    });
  };
  const moved = (desk: ReturnType<typeof bare>) =>
    desk.port.submitted.flatMap((one) => (one.type === 'correction' ? [[one.move_mm, one.teeth, one.divisions]] : []));

  it('has its cursor on the size, and typed digits go there', async () => {
    const desk = bare();
    await desk.keys('k');
    expect(desk.see()).toContain('You RETARDED 4 grey 0.10 mm at');
    await desk.keys('0.16[enter]');
    expect(moved(desk)).toEqual([[-0.16, null, null]]);
  });

  it('whole digits are hundredths, as in the check grid, and the sentence read back is what is stored', async () => {
    const desk = bare();
    await desk.keys('k10');
    expect(desk.see()).toContain('You RETARDED 4 grey 0.10 mm at');
    await desk.keys('[enter]');
    expect(moved(desk)).toEqual([[-0.1, null, null]]);
  });

  it('teeth that are changed are what is said and stored, not the size that was offered', async () => {
    const desk = bare({ teeth: 1, move_mm: -3.175 });
    await desk.keys('k');
    expect(desk.see()).toMatch(/1 tooth, 3\.1[78] mm in all/);
    await desk.keys('[back-tab]2');
    expect(desk.see()).toContain('RETARDED 4 grey 2 teeth (6.35 mm)');
    await desk.keys('[enter]');
    expect(moved(desk)).toEqual([[-6.35, -2, 0]]);
  });

  it('more than a tooth by the knob is asked about once', async () => {
    const desk = bare();
    await desk.keys('k10.0[enter]');
    expect(moved(desk)).toEqual([]);
    expect(desk.see()).toContain('is more than a tooth');
    await desk.keys('[enter]');
    expect(moved(desk)).toEqual([[-10, null, null]]);
  });
});

describe('a knob other than the one advised', () => {
  it('is on record in at most six keys, and takes nothing over that was advised for the other', async () => {
    const desk = sitDown(drifting());
    await desk.keys('k1[tab]5[enter]');
    expect(desk.count()).toBe(5);
    expect(desk.port.submitted).toMatchObject([{ station: '5', divisions: 1, move_mm: 0.05 }]);
    const sided = sitDown(drifting());
    await sided.keys('k2r[tab]5');
    expect(sided.see()).toContain('RETARDED 5 black 2 divisions');
    await sided.keys('[enter]');
    expect(sided.count()).toBe(6);
    const empty = sitDown(drifting());
    await empty.keys('k[tab]5[enter]');
    expect(empty.port.submitted).toEqual([]);
    expect(empty.see()).toContain('How much was it turned?');
  });
});
