/** Ways of obeying: what stands between a crew's advice and the knob. */
import type { CrewFactory, Desk } from './crew.js';
import { hashUniform } from './prng.js';

const through = (name: string, factory: CrewFactory, makeWrap: () => (desk: Desk) => Desk): CrewFactory => {
  return (layout, hidden) => {
    const crew = factory(layout, hidden);
    const wrap = makeWrap();
    return {
      ...crew,
      name: `${crew.name}, ${name}`,
      ok: (desk) => crew.ok(wrap(desk)),
      sample: (desk) => crew.sample(wrap(desk)),
    };
  };
};

/**
 * The first turn of each sample is made only after so many metres more, drawn even in `delayM`; the other turns of that sample
 * follow it. The call comes back once the turn is made, so `counterM()` after it tells truly when that was.
 */
export const late = (factory: CrewFactory, seed = 1, delayM: readonly [number, number] = [500, 1200]): CrewFactory =>
  through('late', factory, () => (desk) => {
    let waited = false;
    const turn: Desk['turn'] = (station, axis, divisions) => {
      if (!waited && divisions !== 0) {
        const u = hashUniform(seed, 31, desk.pulledAtM);
        const before = desk.counterM();
        desk.wait(1);
        const metresAMinute = Math.max(1, desk.counterM() - before);
        desk.wait((delayM[0] + (delayM[1] - delayM[0]) * u) / metresAMinute - 1);
        waited = true;
      }
      return desk.turn(station, axis, divisions);
    };
    return { ...desk, turn };
  });

/**
 * Three turns in ten are not made. `says`: what the call gives back for them, 0 (the crew knows it was not done) or the
 * divisions asked (told it was done, though it was not).
 */
export const sevenInTen = (factory: CrewFactory, seed = 1, says: 'not done' | 'done' = 'not done'): CrewFactory =>
  through('seven in ten', factory, () => {
    let asked = 0;
    return (desk) => ({
      ...desk,
      turn: (station, axis, divisions) => {
        if (hashUniform(seed, 32, asked++) < 0.7) return desk.turn(station, axis, divisions);
        return says === 'done' ? divisions : 0;
      },
    });
  });
