import { fail, ok, type Result } from '../core/result.js';
import type { Profile } from './profile.js';

/** Whether profile and press file agree where the sensor looks at the web: a wrong place puts every reading to the wrong piece of web. */
export const sensorPlace = (
  profile: Pick<Profile, 'sensor_m' | 'name'>,
  press_m: number | null,
): Result<number | null> => {
  const { sensor_m } = profile;
  if (sensor_m === undefined || sensor_m === press_m) return ok(press_m);
  return fail(
    `profile "${profile.name}" says the sensor looks at ${sensor_m} m of the web path, the press file ${press_m === null ? 'has no sensor_m' : `says sensor_m ${press_m}`}: measure it and make them agree`,
  );
};
