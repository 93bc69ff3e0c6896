import cases from './published.json' with { type: 'json' };

/** One published case: where it comes from, what goes in, what must come out. */
export type PublishedCase = {
  readonly id: string;
  readonly source: string;
  readonly provenance: string;
  readonly inputs: unknown;
  readonly expected: unknown;
  readonly expected_full_precision?: unknown;
  readonly tolerance: unknown;
  readonly note: string;
};

/** Cases some test has asked for, so that one test can tell whether any was left out. */
export const published = (id: string): PublishedCase => {
  const found = (cases as readonly PublishedCase[]).find((one) => one.id === id);
  if (found === undefined) throw new Error(`no published case ${id}`);
  return found;
};

export const publishedIds: readonly string[] = (cases as readonly PublishedCase[]).map((one) => one.id);

/** The name a test carries: what it is and where the numbers come from. */
export const titleOf = (id: string): string => {
  const one = published(id);
  return `${id} [${one.source}; ${one.provenance}]`;
};
