import { relative } from 'node:path';
import { importGraph, sourcesUnder } from '../support/import-graph.js';

/** Tests that run the built program see no mutation of a source; the rest of these start no run of their own. */
const BLIND = /^tests\/(commands|end-to-end|screens|torture|bench|mutants)\/|import-rules|docs\.test|release-list/;

/** For each source, the tests that import it, directly or through others: the nearest first. */
export const testsFor = (root: string): ((source: string) => readonly string[]) => {
  const graph = importGraph([...sourcesUnder(`${root}/src`), ...sourcesUnder(`${root}/tests`)]);
  const tests = [...graph.keys()].filter((file) => /\.test\.tsx?$/.test(file) && !BLIND.test(relative(root, file)));
  const reached = new Map(tests.map((test) => [test, stepsFrom(graph, test)]));
  return (source) =>
    tests
      .flatMap((test) => {
        const steps = reached.get(test)?.get(source);
        return steps === undefined ? [] : [{ test, steps, far: sharesFolder(root, source, test) ? 0 : 1 }];
      })
      .sort((a, b) => a.steps + 2 * a.far - (b.steps + 2 * b.far) || (a.test < b.test ? -1 : 1))
      .map(({ test }) => test);
};

const sharesFolder = (root: string, source: string, test: string): boolean => {
  const folder = (file: string): string => relative(root, file).split('/').slice(1, -1).slice(0, 2).join('/');
  return folder(source) === folder(test);
};

/** How many imports each file lies away. */
const stepsFrom = (graph: ReadonlyMap<string, readonly string[]>, start: string): ReadonlyMap<string, number> => {
  const steps = new Map([[start, 0]]);
  let ring = [start];
  for (let step = 1; ring.length > 0; step += 1) {
    ring = [...new Set(ring.flatMap((file) => graph.get(file) ?? []))].filter((file) => !steps.has(file));
    for (const file of ring) steps.set(file, step);
  }
  return steps;
};
