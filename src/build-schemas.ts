import { mkdirSync, writeFileSync } from 'node:fs';
import { z } from 'zod';
import { jobSchema } from './core/job-schema.js';
import { peopleSchema } from './core/people.js';
import { pressSchema } from './core/press-schema.js';
import { Profile } from './devices/profile.js';
import { handoverSchema } from './report/handover-schema.js';
import { historySchema } from './report/history-schema.js';
import { holdsSchema } from './report/holds-schema.js';
import { runReportSchema } from './report/run-report-schema.js';
import { sealSchema } from './report/seal-schema.js';
import { verifySchema } from './report/verify-schema.js';

// Writes a JSON Schema of every JSON file into dist/schemas, so that editors can help and other programs can check; run by `npm run build` after tsc.
const SCHEMAS = {
  press: pressSchema,
  job: jobSchema,
  profile: Profile,
  people: peopleSchema,
  handover: handoverSchema,
  history: historySchema,
  holds: holdsSchema,
  seal: sealSchema,
  verify: verifySchema,
  'run-report': runReportSchema,
};

const folder = new URL('./schemas/', import.meta.url);
mkdirSync(folder, { recursive: true });
for (const [name, schema] of Object.entries(SCHEMAS)) {
  const json = z.toJSONSchema(schema, { io: 'input' });
  writeFileSync(
    new URL(`${name}.schema.json`, folder),
    `${JSON.stringify({ $id: `holdregister/${name}/1`, ...json }, null, 2)}\n`,
  );
}
