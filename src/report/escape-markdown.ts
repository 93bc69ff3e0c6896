/**
 * Writes words so that Markdown (CommonMark, and the tables and bare links of its GitHub dialect) shows them as they are: no markup,
 * no HTML, no links, no list or heading by accident. Plain trade words with numbers come through unchanged.
 */
export const escapeMarkdown = (text: string): string =>
  text
    .replace(/[\\`*_[\]<>|~&$]/g, '\\$&')
    .replace(/:(?=\/\/)|(?<=www)\.|@/gi, '\\$&')
    .replace(/!(?=\\\[)/g, '\\!')
    .replace(/^(\s*)([#=]|[-+](?=\s|$|[-+]))/, '$1\\$2')
    .replace(/^(\s*\d{1,9})([.)])(?=\s|$)/, '$1\\$2');
