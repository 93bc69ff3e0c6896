import { benchBringIn } from './bring-in.js';
import { benchDevices } from './devices.js';
import { benchDrift } from './drift.js';
import { benchJudge } from './judge.js';
import { benchLongLog } from './long-log.js';
import { benchNeverLoses } from './never-loses.js';
import { benchObeyed } from './obeyed.js';
import { benchPlates } from './plates.js';
import { benchRecord } from './record.js';
import { benchReport } from './report.js';
import { benchSpc } from './spc.js';
import { benchSpine } from './spine.js';
import { benchUi } from './ui.js';
import { benchWholePress } from './whole-press.js';

// npm run bench [name ...]: every number that matters as a ratio against a baseline of the same run.
const ALL: Readonly<Record<string, () => Promise<readonly string[]>>> = {
  spine: benchSpine,
  stats: benchSpc,
  drift: benchDrift,
  press: async () => benchWholePress(),
  obeyed: async () => benchObeyed(),
  judge: async () => benchJudge(),
  'bring-in': async () => benchBringIn(),
  plates: benchPlates,
  sensors: benchDevices,
  board: benchUi,
  reports: benchReport,
  record: async () => benchRecord(),
  faults: benchNeverLoses,
  'long-log': async () => benchLongLog(),
};

const asked = process.argv.slice(2);
const unknown = asked.filter((name) => ALL[name] === undefined);
if (unknown.length > 0) {
  process.stderr.write(`no bench ${unknown.join(', ')}; there are ${Object.keys(ALL).join(', ')}\n`);
  process.exit(2);
}
for (const [name, bench] of Object.entries(ALL)) {
  if (asked.length > 0 && !asked.includes(name)) continue;
  process.stdout.write(`\n== ${name}\n`);
  for (const line of await bench()) process.stdout.write(`${line}\n`);
}
