import { z } from 'zod';

const axis = z.enum(['along', 'across']);
const check = z.union([z.number().int(), z.string()]);
const mm = z.number();
const perAxis = <T extends z.ZodType>(of: T) => z.strictObject({ along: of, across: of });
const line = z.strictObject({ at: z.string(), by: z.string(), web_m: z.number().nullable(), words: z.string() });
const cause = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('station'), station: z.string() }),
  z.strictObject({ kind: z.literal('reference') }),
  z.strictObject({ kind: z.literal('web') }),
  z.strictObject({ kind: z.literal('several'), stations: z.array(z.string()) }),
]);
const took = z.strictObject({ took: z.boolean(), got_mm: mm });

const page = z.strictObject({ number: z.number().int(), entries: z.number().int(), head: z.string() });

const stationAxis = z.strictObject({
  last_mm: mm.nullable().describe('Last reading against the reference, + ahead / + operator side; null = not read'),
  last_check: check.nullable(),
  looked: z.enum(['in', 'off']).nullable(),
  tolerance_mm: mm.nullable().describe('Each way; null = none'),
  state: z.string(),
  travel_left_mm: z.strictObject({ plus: mm, minus: mm }).nullable(),
});

const movement = z.strictObject({
  id: z.number().int(),
  axis,
  cause,
  severity: z.enum(['note', 'act', 'out']),
  shape: z.enum(['step', 'ramp']),
  confidence: z.number(),
  since: z.strictObject({ check, web_m: z.number() }),
  found: z.strictObject({ check: z.string(), web_m: z.number(), at: z.string().nullable() }),
  moved_mm: mm,
  open: z.boolean(),
  closed: z
    .strictObject({ how: z.enum(['corrected', 'recovered', 'withdrawn']), web_m: z.number().nullable() })
    .nullable(),
  seen: z.boolean(),
  sentence: z.string(),
  advised: z.array(z.string()),
  done: z.array(z.string()),
  hindsight: z
    .enum(['borne out', 'other', 'again', 'misread', 'not borne out'])
    .nullable()
    .describe('What all readings of the run say of it; null = they were not asked, it goes on'),
});

/** The handover as data. Millimetres and metres whatever the job shows; + ahead, + toward the operator side; times ISO 8601 in UTC. */
export const handoverSchema = z.strictObject({
  format: z.literal('handover/1'),
  run: z.string(),
  job: z.string(),
  press: z.string(),
  made_at: z.string(),
  since_at: z.string(),
  since_web_m: z.number().nullable(),
  time_zone: z.string(),
  phase: z.enum(['make-ready', 'running', 'stopped', 'settling', 'ended']),
  web_m: z.number().nullable(),
  estimated: z.boolean(),
  finished_roll: z.string().nullable(),
  made_m: z.number().nullable(),
  passed_by: z.string().nullable(),
  operators: z.array(z.string()),
  checks: z.strictObject({ made: z.number(), looked_only: z.number(), sensor: z.number(), withdrawn: z.number() }),
  stations: z.array(
    z.strictObject({
      station: z.string(),
      label: z.string(),
      kind: z.enum(['print', 'die']),
      reference: z.boolean(),
      read: z.enum(['measure', 'look', 'never']),
      register: perAxis(stationAxis),
      plate: z.strictObject({
        grade: z.enum(['clean', 'building', 'dirty']).nullable(),
        flaws: z.strictObject({ flaws: z.number(), labels: z.number() }).nullable(),
        flaw: z.string().nullable().describe('What the flaw is, in words; null = not said'),
        flag: z.enum(['building', 'dirty', 'wash-due']).nullable(),
        cause: z.string().nullable().describe('Where to look, a suggestion'),
        last_wash_m: z.number().nullable(),
      }),
    }),
  ),
  do_now: z.strictObject({
    urgency: z.enum(['calm', 'note', 'act', 'out']),
    sentence: z.string(),
    why: z.string(),
    hand: z.array(z.string()),
  }),
  imported: z
    .strictObject({ file: z.string() })
    .nullable()
    .describe('The run was read from this file, not run here; null = it was run here'),
  traced: z
    .array(z.strictObject({ term: z.string(), says: z.string() }))
    .describe('What the product was made from, as the job file and the stock rolls say'),
  product: z
    .strictObject({
      made: z.number().int(),
      ordered: z.number().int().nullable(),
      held: z.number().int(),
      released: z.number().int(),
      reworked: z.number().int(),
      scrapped: z.number().int(),
      may_ship: z.array(z.string()).describe('Finished rolls of which nothing is held'),
    })
    .nullable()
    .describe('Labels, each counted once'),
  abnormal: z.array(z.string()),
  holds: z.array(
    z.strictObject({
      from_m: z.number().describe('Last good check: itself not held'),
      to_m: z.number().nullable().describe('First good check afterwards: itself held; null = still going on'),
      rolls: z.array(z.string()),
      labels: z.number().nullable(),
      why: z.array(z.string()),
      parts: z
        .array(
          z.strictObject({
            roll: z.string(),
            from_m: z.number(),
            to_m: z.number().nullable(),
            labels: z.number(),
            why: z.array(z.string()),
            state: z.enum(['hold', 're-inspect', 'released', 'reworked', 'scrapped']),
            at: z.string().nullable(),
            by: z.string().nullable(),
            by_second: z.string().nullable(),
            note: z.string().nullable(),
          }),
        )
        .describe(
          'Roll by roll, each for its own reasons, and how it stands; at and by null = nobody has touched it since it was held',
        ),
    }),
  ),
  movements: z.array(movement),
  corrections: z.array(
    z.strictObject({
      at: z.string(),
      by: z.string(),
      web_m: z.number(),
      station: z.string(),
      axis,
      move_mm: mm,
      teeth: z.number().nullable(),
      divisions: z.number().nullable(),
      advised: z.boolean(),
      make_ready: z.boolean().describe('Made before the first OK to run: the sample that was passed judged it'),
      withdrawn: z.boolean(),
      result: took.nullable(),
    }),
  ),
  next_check: z
    .strictObject({ why: z.string(), in_m: z.number().nullable(), in_min: z.number().nullable(), overdue: z.boolean() })
    .nullable(),
  summary: z.array(
    z.strictObject({
      station: z.string(),
      axis,
      n: z.number(),
      mean_mm: mm.nullable(),
      sd_mm: mm.nullable(),
      cpk: z.number().nullable(),
      cpk_95: z.strictObject({ low: z.number(), high: z.number() }).nullish().describe('95 % interval of cpk'),
      state: z.string(),
    }),
  ),
  notes: z.array(line),
  log: z.array(line),
  sign_off: z
    .strictObject({
      at: z.string(),
      outgoing: z.string(),
      incoming: z.string().nullable(),
      note: z.string().nullable(),
      points: z
        .array(z.strictObject({ text: z.string(), read_back: z.boolean() }))
        .describe('What was read back, word for word'),
    })
    .nullable(),
  signed: z
    .array(
      z.strictObject({
        number: z.number().int(),
        at: z.string(),
        outgoing: z.string(),
        incoming: z.string().nullable(),
        page: page.nullable().describe('The page it was read from'),
      }),
    )
    .describe('All handovers of the run that were signed'),
  paper: page
    .extend({ signed: z.boolean() })
    .nullable()
    .describe('What proves this page: entries it was made from, and the SHA-256 chain behind them'),
});

export type HandoverData = z.infer<typeof handoverSchema>;
