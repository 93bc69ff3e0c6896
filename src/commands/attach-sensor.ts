import { join } from 'node:path';
import { checkOfGathered } from '../core/check-of-gathered.js';
import { repeatMm } from '../core/job.js';
import type { RecordBody } from '../core/record.js';
import { ok, type Result } from '../core/result.js';
import { rollsNow, rollUnderSensor } from '../core/run/roll-of-sample.js';
import type { RunState } from '../core/run/state.js';
import { stationsOf } from '../core/run/stations.js';
import { type Gathered, gatherConfig, sensorGather } from '../core/sensor-gather.js';
import { estimateWeb } from '../core/web.js';
import type { SensorCounts } from '../devices/sensor-counts.js';
import type { Runtime } from '../runtime.js';

export type SensorWanted = {
  readonly port: string;
  readonly profile: string;
  /** Keep every byte that comes off the wire beside the run. */
  readonly keepRaw?: boolean;
};

/** A sensor at work on a run. */
export type Attached = { counts(): SensorCounts; close(): Promise<void> };

/** Puts a sensor on a run: its repeats are gathered into checks, the life of its port is recorded. */
export const attachSensor = async (runtime: Runtime, wanted: SensorWanted): Promise<Result<Attached>> => {
  const { loadProfile } = await import('../devices/read-profile.js');
  const { openSensor } = await import('../devices/open-sensor.js');
  const { sensorPlace } = await import('../devices/sensor-place.js');
  const profile = await loadProfile(wanted.profile);
  if (!profile.ok) return profile;
  const place = sensorPlace(profile.value, runtime.state().press.sensor_m);
  if (!place.ok) return place;
  const stations = stationsOf(runtime.state().press, runtime.state().job).map((s) => s.id);
  const { press, job } = runtime.state();
  // Readings of stations that are not in the job are refused, and told, where they come off the wire.
  const config = gatherConfig(job, null, repeatMm(press, job) / 1000);
  let gathering = sensorGather.initial(config);
  // What was printed at a knob when it was turned comes under the sensor so much later; no check may hold repeats from before and after.
  const farthest_m = (press.sensor_m ?? press.sample_m) - Math.min(...press.stations.map((s) => s.at_m));
  let breaks_m: readonly number[] = [];
  const unhear = runtime.onRecord((record) => {
    if (BREAKS.has(record.type) && 'web_m' in record && typeof record.web_m === 'number')
      breaks_m = [...breaks_m, record.web_m, record.web_m + farthest_m].slice(-KEPT_BREAKS);
  });
  const keep = (gathered: Gathered): void => {
    if (checkNow(runtime.state(), gathered) === null) return;
    void runtime.submit((state) => checkNow(state, gathered) ?? nothingRead(state), {
      by: 'sensor',
      soon: true,
      keep: true,
    });
  };
  const sensor = openSensor({
    port: wanted.port,
    profile: profile.value,
    now: runtime.now,
    stations,
    keep: { folder: join(runtime.folder, 'sensor'), raw: wanted.keepRaw ?? false },
    onEvent: (event) => {
      if (event.kind === 'state') {
        const rest = event.state === 'lost' ? sensorGather.flush(config, gathering) : null;
        if (rest !== null) {
          keep(rest);
          gathering = sensorGather.initial(config);
        }
        void runtime.submit(
          { type: 'sensor', state: event.state, port: wanted.port, detail: event.detail },
          { by: 'sensor', keep: true },
        );
        return;
      }
      if (event.kind !== 'readings') return;
      const { judged } = runtime.state();
      const web_m =
        event.counter_m === null
          ? (estimateWeb(judged.web, event.at_ms)?.web_m ?? 0)
          : event.counter_m + judged.counter_offset_m;
      const stepped = sensorGather.step(config, gathering, {
        readings: event.readings,
        at_ms: event.at_ms,
        web_m,
        breaks_m,
      });
      gathering = stepped.state;
      for (const gathered of stepped.gathered) {
        keep(gathered);
      }
    },
  });
  return ok({
    counts: sensor.counts,
    close: async () => {
      unhear();
      await sensor.close();
      // What was read since the last check is a check too.
      const rest = sensorGather.flush(config, gathering);
      gathering = sensorGather.initial(config);
      if (rest !== null) keep(rest);
    },
  });
};

/** Acts on the press after which it prints otherwise than before. */
const BREAKS: ReadonlySet<string> = new Set(['correction', 'plate', 'die', 'reference', 'wash']);
const KEPT_BREAKS = 40;

/** The check gets its number when it is written; a window that ended before the last check counts from there, so that none is refused. */
const checkNow = (state: RunState, gathered: Gathered): RecordBody | null => {
  const check = checkOfGathered(gathered, {
    check: state.next_check,
    roll: rollUnderSensor(rollsNow(state.judged, gathered.web_m)),
    place: null,
  });
  return check === null
    ? null
    : { ...check, web_m: Math.max(check.web_m, state.judged.last_check?.web_m ?? check.web_m) };
};

const nothingRead = (state: RunState): RecordBody => ({
  type: 'note',
  web_m: state.judged.last_check?.web_m ?? null,
  text: 'The sensor sent nothing that could be read.',
});
