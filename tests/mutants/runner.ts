import { createVitest } from 'vitest/node';

/** Asked of the runner: one source as it is to be read (null = none is changed), and the tests to run. */
export type Asked = { readonly file: string | null; readonly text: string; readonly tests: readonly string[] };

/** How each test file came out, in ms of its tests; `failed` names the first test that failed, null = all passed. */
export type Answered = {
  readonly failed: string | null;
  readonly times: readonly { readonly test: string; readonly ms: number; readonly ok: boolean }[];
};

/**
 * Runs tests over a source that is changed in memory only: no file of the tree is ever touched. One process for many runs; whoever started
 * it ends it when a change makes it turn for ever.
 */
const root = process.argv[2] ?? '';
let changed: { readonly file: string; readonly text: string } | null = null;
const vitest = await createVitest(
  'test',
  {
    root,
    config: `${root}/tests/vitest.config.ts`,
    watch: false,
    reporters: [{}],
    bail: 1,
    maxWorkers: 1,
    // The tests of one mutant share a process and what it has read: to read a hundred files anew for each costs more than to run it.
    isolate: false,
    testTimeout: 15_000,
    passWithNoTests: true,
  },
  {
    plugins: [
      {
        name: 'one-mutant',
        enforce: 'pre',
        load: (id: string) => (id.split('?')[0] === changed?.file ? changed?.text : undefined),
      },
    ],
  },
);
await vitest.standalone();
const project = vitest.getRootProject();

process.on('message', async (asked: Asked) => {
  const touched = [changed?.file, asked.file].filter((one): one is string => typeof one === 'string');
  changed = asked.file === null ? null : { file: asked.file, text: asked.text };
  for (const file of touched) vitest.invalidateFile(file);
  const specifications = asked.tests.map((test) => project.createSpecification(test));
  const ran = await vitest.runTestSpecifications(specifications);
  const { unhandledErrors } = ran;
  // What earlier runs came to is remembered too.
  const testModules = ran.testModules.filter(({ moduleId }) => asked.tests.includes(moduleId));
  const times = testModules.map((one) => ({
    test: one.moduleId,
    ms: one.diagnostic().duration,
    ok: one.ok() && [...one.children.allTests()].length > 0,
  }));
  const broken = testModules.find((one) => one.state() === 'failed');
  const [first] = broken === undefined ? [] : broken.children.allTests('failed');
  const failed =
    broken !== undefined
      ? `${broken.moduleId}: ${first?.fullName ?? 'could not be read'}`
      : unhandledErrors.length > 0
        ? 'an error outside any test'
        : null;
  process.send?.({ failed, times } satisfies Answered);
});
process.send?.('ready');
