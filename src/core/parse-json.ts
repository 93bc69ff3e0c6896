import { quoted } from './quoted.js';
import { fail, ok, type Result } from './result.js';

/**
 * Reads a JSON file as people edit them: trouble is told with line and column and in words (a missing comma, a decimal comma, NaN, a
 * comment); a key given twice, keys with a meaning of their own in JavaScript and nesting deeper than 40 are refused.
 */
export const parseJson = (text: string, fileName: string): Result<unknown> => {
  const body = text.startsWith('\ufeff') ? text.slice(1) : text;
  if (body.trim() === '') return fail(`${fileName}: the file is empty`, fileName);
  const trouble = scan(body);
  if (trouble !== null) {
    const where = place(body, trouble.at);
    return fail(
      `${fileName}: line ${where.line} column ${where.column}: ${trouble.why}`,
      `${fileName}:${where.line}:${where.column}`,
    );
  }
  return ok(JSON.parse(body));
};

type Trouble = { readonly at: number; readonly why: string };
type Step = { readonly next: number } | Trouble;

const DEEPEST = 40;
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const STRING = /"(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
const WORD = /true|false|null/y;
const SPACE = /[ \t\r\n]*/y;
const TOKEN = /[^\s,:[\]{}"]+|[\s\S]/y;
const FORBIDDEN = new Set(['__proto__', 'constructor', 'prototype']);

const scan = (text: string): Trouble | null => {
  const value = scanValue(text, skip(text, 0), 0);
  if ('why' in value) return value;
  const end = skip(text, value.next);
  return end === text.length
    ? null
    : { at: end, why: `found ${token(text, end)} after the end of the file's one block` };
};

const scanValue = (text: string, at: number, depth: number): Step => {
  if (depth > DEEPEST) return { at, why: `nested deeper than ${DEEPEST} levels` };
  if (text[at] === '{') return scanObject(text, at, depth);
  if (text[at] === '[') return scanArray(text, at, depth);
  const next = match(STRING, text, at) ?? match(NUMBER, text, at) ?? match(WORD, text, at);
  if (next !== null && !/[\w.]/.test(text[next] ?? ' ')) return { next };
  return { at, why: whyNotValue(text, at) };
};

const scanObject = (text: string, open: number, depth: number): Step => {
  const keys = new Set<string>();
  let at = skip(text, open + 1);
  if (text[at] === '}') return { next: at + 1 };
  for (;;) {
    const end = match(STRING, text, at);
    if (end === null) return { at, why: whyNotKey(text, at) };
    const key = String(JSON.parse(text.slice(at, end)));
    if (FORBIDDEN.has(key)) return { at, why: `key ${quoted(key)} is not allowed` };
    if (keys.has(key)) return { at, why: `key ${quoted(key)} is given twice` };
    keys.add(key);
    at = skip(text, end);
    if (text[at] !== ':') return { at, why: `expected ":" after key ${quoted(key)}, found ${token(text, at)}` };
    const value = scanValue(text, skip(text, at + 1), depth + 1);
    if ('why' in value) return value;
    at = skip(text, value.next);
    if (text[at] === '}') return { next: at + 1 };
    if (text[at] !== ',')
      return { at, why: `expected "," or "}" after the value of ${quoted(key)}, found ${token(text, at)}` };
    at = skip(text, at + 1);
  }
};

const scanArray = (text: string, open: number, depth: number): Step => {
  let at = skip(text, open + 1);
  if (text[at] === ']') return { next: at + 1 };
  for (;;) {
    const value = scanValue(text, at, depth + 1);
    if ('why' in value) return value;
    at = skip(text, value.next);
    if (text[at] === ']') return { next: at + 1 };
    if (text[at] !== ',') return { at, why: `expected "," or "]" in the list, found ${token(text, at)}` };
    at = skip(text, at + 1);
    if (text[at] === ']') return { at, why: 'a comma stands before "]" with nothing after it; take the comma out' };
  }
};

const whyNotKey = (text: string, at: number): string => {
  const found = token(text, at);
  if (text[at] === '}') return 'a comma stands before "}" with nothing after it; take the comma out';
  if (/\d/.test(text[at] ?? ''))
    return `expected a key in double quotes, found ${found}; write decimals with a point, as 0.15`;
  if (text[at] === '/' || text[at] === '#') return 'comments are not allowed in this file; take it out';
  return `expected a key in double quotes, found ${found}`;
};

const whyNotValue = (text: string, at: number): string => {
  const found = token(text, at);
  const word = match(TOKEN, text, at) === null ? '' : text.slice(at, match(TOKEN, text, at) ?? at);
  if (/^[-+]?(nan|inf|infinity)$/i.test(word))
    return `expected a value, found ${found}, which is not a number; leave the key out if it is not known`;
  if (/^\+?\.?\d/.test(word)) return `expected a number written like 0.15, found ${found}`;
  if (word.startsWith('//') || word.startsWith('#')) return 'comments are not allowed in this file; take it out';
  if (word.startsWith("'") || /^[A-Za-z]/.test(word))
    return `expected a value, found ${found}; text stands in double quotes`;
  if (text[at] === '"')
    return 'this text has no closing double quote on its line, or a backslash in it that means nothing';
  return `expected a value, found ${found}`;
};

const token = (text: string, at: number): string => {
  const end = match(TOKEN, text, at);
  return end === null ? 'the end of the file' : quoted(text.slice(at, end));
};

const match = (pattern: RegExp, text: string, at: number): number | null => {
  pattern.lastIndex = at;
  return pattern.test(text) ? pattern.lastIndex : null;
};

const skip = (text: string, at: number): number => match(SPACE, text, at) ?? at;

const place = (text: string, at: number): { readonly line: number; readonly column: number } => {
  const before = text.slice(0, at);
  const lineStart = before.lastIndexOf('\n') + 1;
  return { line: before.split('\n').length, column: at - lineStart + 1 };
};
