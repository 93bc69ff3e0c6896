import { z } from 'zod';
import { runDigestSchema } from '../core/views/run-digest.js';

const text = z.string().max(4096);
const fileEntry = z.strictObject({ name: text, path: text, used: text });

/** What the shop file remembers between runs. All of it is convenience or can be worked out again from the runs' logs: losing it loses no reading. */
export const shopSchema = z.strictObject({
  format: z.literal('shop/1'),
  /** Press and job files, the last used first. */
  presses: z.array(fileEntry),
  jobs: z.array(fileEntry),
  /** The runs in order of beginning. */
  runs: z.array(z.strictObject({ id: text, press: text, job: text, begun: text, ended: text.nullable() })),
  /** What was learned of each knob, gauge and plate, by a name such as `knob/Line B/4/along`: a few numbers or words each. */
  learned: z.record(text, z.record(text, z.union([z.number(), text, z.null()]))),
  /** What history across runs is counted from, by run, and how far the log went that it was made from: worked out again when it has grown. */
  digests: z
    .record(
      text,
      z.strictObject({
        log: z.strictObject({ segments: z.number(), last_bytes: z.number() }),
        digest: runDigestSchema,
      }),
    )
    .default({}),
});

export type ShopData = z.infer<typeof shopSchema>;
export type RunEntry = ShopData['runs'][number];

export const EMPTY_SHOP: ShopData = { format: 'shop/1', presses: [], jobs: [], runs: [], learned: {}, digests: {} };

/** A press or job file moves to the head of its list. */
export const usedFile = (list: ShopData['presses'], entry: ShopData['presses'][number]): ShopData['presses'] => [
  entry,
  ...list.filter(({ path }) => path !== entry.path).slice(0, 49),
];

/** A run is put in the index, or its entry made new. */
export const indexedRun = (runs: ShopData['runs'], entry: RunEntry): ShopData['runs'] =>
  [...runs.filter(({ id }) => id !== entry.id), entry].toSorted((a, b) =>
    a.begun === b.begun ? (a.id < b.id ? -1 : 1) : a.begun < b.begun ? -1 : 1,
  );
