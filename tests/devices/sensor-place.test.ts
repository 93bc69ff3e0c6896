import { expect, it } from 'vitest';
import { sensorPlace } from '../../src/devices/sensor-place.js';

it.each([
  [undefined, 11, 11],
  [undefined, null, null],
  [11, 11, 11],
])('profile %s m and press %s m agree: %s', (sensor_m, press, place) => {
  expect(sensorPlace({ name: 'x', ...(sensor_m === undefined ? {} : { sensor_m }) }, press)).toEqual({
    ok: true,
    value: place,
  });
});

it('a profile and a press file that put the sensor at different places are refused', () => {
  const apart = sensorPlace({ name: 'x', sensor_m: 10.5 }, 11);
  expect(apart.ok ? '' : apart.problem.message).toMatch(
    /profile "x" says .* 10\.5 m .* press file says sensor_m 11: measure it/,
  );
  const none = sensorPlace({ name: 'x', sensor_m: 10.5 }, null);
  expect(none.ok ? '' : none.problem.message).toMatch(/press file has no sensor_m/);
});
