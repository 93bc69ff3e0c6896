import { describe, expect, it } from 'vitest';
import { eightColourShift, type Shift } from '../support/eight-colour.js';
import { type Desk, sitDownAt } from './desk.js';
import { type RunPort, runPort } from './run-port.js';

/** Five quiet checks, then a sample whose 4 grey was misread: the board asks for a second label of it. */
const asked = (later_s = 200): { readonly desk: Desk; readonly port: RunPort; readonly shift: Shift } => {
  const shift = eightColourShift();
  for (const counter of [9_900, 10_500, 11_100, 11_700, 12_300]) {
    shift.to(counter);
    shift.check();
  }
  shift.to(12_900);
  shift.check({ misread: { '4': 0.31 } });
  // The loupe takes its time: at 120 m/min 200 s are 400 m.
  const port = runPort(shift.run.state(), shift.at_ms() + later_s * 1000);
  return { desk: sitDownAt(port), port, shift };
};

const last = (port: RunPort) => port.submitted.findLast((one) => one.type === 'check');

describe('a second label of the sample just read', () => {
  it('is what c keys while the board asks for it, with the cursor on the station that is asked', async () => {
    const { desk, port } = asked();
    expect(desk.see()).toContain('READ 4 grey AGAIN, on a second label of the sample');
    await desk.keys('c');
    expect(desk.see()).toContain('CHECK 8: SECOND LABEL of sample 7, 12 900 m');
    await desk.keys('0[enter][end][enter]');
    expect(last(port)).toMatchObject({ check: 8, web_m: 3_500, readings: [{ station: '4', along_mm: 0 }] });
    expect(desk.count()).toBeLessThanOrEqual(6);
    expect(desk.see()).toContain('second label of sample 7');
  });

  it('is judged as the same sample: the misread closes, its hold ends and the board asks nothing more', async () => {
    const { desk, port } = asked();
    expect(port.view().hold.filter((one) => one.open)).toHaveLength(1);
    await desk.keys('c1A[enter][end][enter]');
    expect(port.view().hold.filter((one) => one.open)).toEqual([]);
    expect(port.view().events.filter((one) => one.open)).toEqual([]);
    expect(port.view().instruction.read_again).toEqual([]);
  });

  it('keyed as a sample of its own instead, on one key, and back again', async () => {
    const { desk, port } = asked();
    await desk.keys('cs');
    expect(desk.see()).not.toContain('SECOND LABEL');
    await desk.keys('s');
    expect(desk.see()).toContain('SECOND LABEL of sample 7');
    await desk.keys('s1A[enter][end][enter]');
    // Pulled where the web stood: some 400 m on.
    expect(last(port)?.type === 'check' ? last(port)?.web_m : 0).toBeGreaterThan(3_880);
  });

  it('a sample that was pulled farther on is a new one; beside the sample read last it is a label of it', async () => {
    const far = asked();
    await far.desk.keys('pc');
    expect(far.desk.see()).toContain('CHECK 8 off roll 1, pulled at 13 3');
    expect(far.desk.see()).toContain('s: second label of sample 7');
    const near = asked(30);
    await near.desk.keys('pc');
    expect(near.desk.see()).toContain('SECOND LABEL of sample 7');
  });

  it('where nothing is asked for c is a sample of its own, and s says otherwise', async () => {
    const shift = eightColourShift();
    shift.to(9_900);
    shift.check();
    const port = runPort(shift.run.state(), shift.at_ms() + 60_000);
    const desk = sitDownAt(port);
    await desk.keys('c');
    expect(desk.see()).not.toContain('SECOND LABEL');
    await desk.keys('s1A[enter][end][enter]');
    expect(last(port)).toMatchObject({ web_m: 500 });
  });

  it('is expected what its own sample carries: a turn made since is not on it', async () => {
    const { desk, port } = asked();
    await port.submit({
      type: 'correction',
      station: '6',
      axis: 'along',
      move_mm: 0.5,
      teeth: 0,
      divisions: 10,
      web_m: 3_700,
    });
    await desk.keys('c0[enter][down][down]1A[enter]');
    expect(desk.see()).not.toContain('? 0.01');
    expect(desk.see()).toContain('shows the old setting of 6 cream');
  });

  it('survives a power cut half-keyed', async () => {
    const { desk, port } = asked();
    await desk.keys('c1A[enter][esc]');
    const again = sitDownAt({ ...port, drafts: { load: () => port.saved.at(-1) ?? null, save: () => undefined } });
    await again.keys('c[end][enter]');
    expect(last(port)).toMatchObject({ web_m: 3_500 });
  });
});
