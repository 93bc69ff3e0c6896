// The built program without its board: opens the run and the sensor and does what the board's process does, apart from drawing. Run by the bench.
import { attachSensor } from '../../dist/commands/attach-sensor.js';
import { findRun } from '../../dist/commands/find-run.js';
import { openRun } from '../../dist/runtime.js';

const [data, port, profile] = process.argv.slice(2);
const folder = findRun(data, undefined);
if (!folder.ok) throw new Error(folder.problem.message);
const opened = await openRun(folder.value, { operator: 'bench' });
if (!opened.ok) throw new Error(opened.problem.message);
const sensor = await attachSensor(opened.value, { port, profile });
if (!sensor.ok) throw new Error(sensor.problem.message);
process.stdout.write('ready\n');
process.on('SIGTERM', async () => {
  await sensor.value.close();
  process.stdout.write(`${JSON.stringify(sensor.value.counts())}\n`);
  await opened.value.close();
  process.exit(0);
});
