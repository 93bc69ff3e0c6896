import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { jobSchema } from '../../src/core/job-schema.js';
import { pressSchema } from '../../src/core/press-schema.js';

describe('the JSON Schemas that are shipped', () => {
  test.each([
    ['press', pressSchema, ['format', 'name', 'stations', 'sample_m']],
    ['job', jobSchema, ['format', 'name', 'repeat_teeth', 'stations', 'tolerance']],
  ] as const)('%s: asks for what the file description asks for, and refuses any other key', (_, schema, required) => {
    const json = z.toJSONSchema(schema, { io: 'input' });
    expect(json.required?.toSorted()).toEqual(required.toSorted());
    expect(json.additionalProperties).toBe(false);
  });
});
