import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { jobSchema } from '../../src/core/job-schema.js';
import { pressSchema } from '../../src/core/press-schema.js';
import { handoverSchema } from '../../src/report/handover-schema.js';
import { runReportSchema } from '../../src/report/run-report-schema.js';

describe('the JSON Schemas that are shipped', () => {
  test.each([
    ['press', pressSchema, ['format', 'name', 'stations', 'sample_m']],
    ['handover', handoverSchema, null],
    ['run-report', runReportSchema, null],
    ['job', jobSchema, ['format', 'name', 'repeat_teeth', 'stations', 'tolerance']],
  ] as const)('%s: asks for what the file description asks for, and refuses any other key', (_, schema, required) => {
    const json = z.toJSONSchema(schema, { io: 'input' });
    if (required !== null) expect(json.required?.toSorted()).toEqual(required.toSorted());
    else expect(json.required?.length).toBeGreaterThan(5);
    expect(json.additionalProperties).toBe(false);
  });
});
