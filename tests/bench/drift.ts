import { benchCrossing } from './drift-crossing.js';
import { benchDelays } from './drift-delays.js';
import { benchFalseNotices } from './drift-false-notices.js';
import { benchForecast } from './drift-forecast.js';
import { benchSpeed } from './drift-speed.js';

/** The tables of the drift watch: delays, false notices, forecasts, restraint, cost. Seeded, so they print the same each time but for cost. */
export const benchDrift = async (): Promise<string[]> => [
  ...benchDelays(300),
  '',
  ...benchFalseNotices(50),
  '',
  ...benchForecast(100),
  '',
  ...benchCrossing(60),
  '',

  '',
  ...benchSpeed(),
];
