import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { logOf, newData, onScreen, runningPress } from '../end-to-end/program.js';
import { PROFILE, sensorFeed } from './sensor-feed.js';

/** The profile of a sensor that is said to send as fast as this one does; ten times that is its burst. */
const fastProfile = (): string => {
  const file = join(newData(), 'profile.json');
  writeFileSync(file, JSON.stringify({ ...JSON.parse(readFileSync(PROFILE, 'utf8')), expect_per_s: 400 }));
  return file;
};

describe('a sensor at full speed', () => {
  it('900 readings a second, then bursts of ten times that: every repeat sent stands in a check, and the board answers', async () => {
    const data = runningPress();
    const feed = await sensorFeed(4);
    const board = onScreen(data, '--by', 'MK', '--sensor', feed.path, '--profile', fastProfile());
    try {
      await board.waitFor('along +ahead');
      await board.waitFor('sensor');
      const from = feed.repeats();
      feed.heard(true);
      const pass = (ms: number): Promise<void> => new Promise((next) => setTimeout(next, ms));
      await pass(3000);
      for (let burst = 0; burst < 3; burst += 1) {
        feed.press.setSpeed(9000);
        await pass(300);
        feed.press.setSpeed(900);
        await pass(700);
      }
      board.type('n');
      await board.waitFor('Put this note');
      board.press('esc');
      feed.heard(false);
      const sent = feed.repeats() - from;
      // What was sent last is still on its way.
      await pass(1500);
      board.kill('SIGTERM');
      expect((await board.exited).code).toBe(143);
      const gathered = (station: string): number =>
        logOf(data)
          .flatMap((r) => (r.type === 'check' && r.source === 'sensor' ? r.readings : []))
          .reduce((sum, r) => sum + (r.station === station ? (r.n ?? 0) : 0), 0);
      expect(sent).toBeGreaterThan(600);
      for (const station of ['2', '3', '4', '5', 'D']) expect([station, gathered(station)]).toEqual([station, sent]);
    } finally {
      feed.stop();
      await board.close();
    }
  }, 120_000);
});
