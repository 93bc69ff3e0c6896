/** What the disk refused, for one row of the board: why and what to do, without what was being done to which path. */
export const shortReason = (words: string): string =>
  words
    .replace(/^could not .*?: /, '')
    .replace(/^\S*\/log-\d+\.ndjson\b:? ?/, '')
    .replaceAll(/\S*\/([\w.-]+\.(?:ndjson|json))/g, '$1');
