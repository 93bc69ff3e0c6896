import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { readSetup } from './commands/read-setup.js';
import { fromLog, recordsToCsv } from './core/readings/records-to-csv.js';
import { scriptedRun } from './demo/scripted-run.js';

// Writes demo-data/run.csv anew from the seeded scenario: npm run demo-data.
const folder = fileURLToPath(new URL('../demo-data/', import.meta.url));
const setup = readSetup(join(folder, 'press.json'), join(folder, 'job.json'));
if (!setup.ok) throw new Error(setup.problem.message);
const { records, found } = scriptedRun(setup.value.press, setup.value.job);
writeFileSync(join(folder, 'run.csv'), recordsToCsv(fromLog(records), 'demo'));
process.stdout.write(`${records.length} records, ${found.flat().length} findings\n`);
