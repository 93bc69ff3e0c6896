import type { z } from 'zod';
import { nearest } from './nearest.js';
import { quoted } from './quoted.js';
import { fail, type Problem } from './result.js';

/** One thing wrong in a file: the path of the key, and what was found, what is allowed. */
export type FileTrouble = { readonly path: readonly PropertyKey[]; readonly why: string };

/** The first few troubles of a file as one refusal, one line each: file, key path, what was found, what is allowed. */
export const fileProblem = (
  fileName: string,
  troubles: readonly FileTrouble[],
): { readonly ok: false; readonly problem: Problem } => {
  const lines = troubles
    .slice(0, SHOWN)
    .map(({ path, why }) => `${fileName}: ${path.length === 0 ? '' : `${keyPath(path)}: `}${why}`);
  const more = troubles.length - lines.length;
  if (more > 0) lines.push(`${fileName}: and ${more} more problem${more === 1 ? '' : 's'}`);
  const path = troubles[0]?.path ?? [];
  return fail(lines.join('\n'), path.length === 0 ? fileName : `${fileName}: ${keyPath(path)}`);
};

/** Troubles found by a schema, told with the descriptions that the schema carries. */
export const schemaTroubles = (
  schema: z.ZodType,
  data: unknown,
  issues: readonly z.core.$ZodIssue[],
): readonly FileTrouble[] => issues.flatMap((issue) => troublesOf(schema, data, issue));

/** `stations[1].along.division_mm` */
export const keyPath = (path: readonly PropertyKey[]): string =>
  path.reduce<string>(
    (text, key) => (typeof key === 'number' ? `${text}[${key}]` : text === '' ? String(key) : `${text}.${String(key)}`),
    '',
  );

const SHOWN = 4;

const troublesOf = (schema: z.ZodType, data: unknown, issue: z.core.$ZodIssue): readonly FileTrouble[] => {
  if (issue.code === 'unrecognized_keys') {
    const known = Object.keys(shapeAt(schema, issue.path) ?? {});
    return issue.keys.map((key) => ({
      path: [...issue.path, key],
      why: `unknown key${meant(nearest(key, known))}; allowed here: ${known.join(', ')}`,
    }));
  }
  const found = valueAt(data, issue.path);
  if (issue.code === 'invalid_union')
    return [nestedTrouble(schema, data, issue) ?? { path: issue.path, why: refused(found, at(schema, issue.path)) }];
  if (issue.code === 'invalid_value' && typeof found === 'string') {
    const words = issue.values.map(String);
    return [
      {
        path: issue.path,
        why: `found ${quoted(found)}; allowed: ${words.map((word) => quoted(word)).join(' or ')}${words.length > 1 ? meant(nearest(found, words)) : ''}`,
      },
    ];
  }
  if (issue.code === 'custom' && issue.message !== 'Invalid input') return [{ path: issue.path, why: issue.message }];
  if (found === undefined) return [{ path: issue.path, why: `missing; ${allowed(at(schema, issue.path))}` }];
  return [{ path: issue.path, why: refused(found, at(schema, issue.path)) }];
};

/** A block that was meant for one side of a union (a number, or a block of keys) is told by that side's own trouble. */
const nestedTrouble = (
  schema: z.ZodType,
  data: unknown,
  issue: z.core.$ZodIssueInvalidUnion,
): FileTrouble | undefined => {
  const inside = issue.errors.find((issues) =>
    issues.some((one) => one.path.length > 0 || one.code === 'unrecognized_keys'),
  );
  const first = inside?.[0];
  return first === undefined
    ? undefined
    : troublesOf(schema, data, { ...first, path: [...issue.path, ...first.path] })[0];
};

const refused = (found: unknown, schema: z.ZodType | undefined): string =>
  `found ${quoted(found)}; ${allowed(schema)}${typeHint(found)}`;

const typeHint = (found: unknown): string => {
  if (typeof found !== 'string') return '';
  if (/^[-+]?\d+,\d+$/.test(found.trim())) return '; write decimals with a point and without quotes';
  return found.trim() !== '' && Number.isFinite(Number(found)) ? '; write numbers without quotes' : '';
};

const allowed = (schema: z.ZodType | undefined): string => {
  const words = schema?.description;
  if (words !== undefined) return `allowed: ${words}`;
  const shape = shapeOf(schema);
  if (shape !== null) return `allowed: a block with the keys ${Object.keys(shape).join(', ')}`;
  return 'allowed: see the file description in the README';
};

const meant = (word: string | null): string => (word === null ? '' : `, did you mean ${quoted(word)}?`);

const valueAt = (data: unknown, path: readonly PropertyKey[]): unknown =>
  path.reduce<unknown>(
    (value, key) =>
      typeof value === 'object' && value !== null && Object.hasOwn(value, key) ? Reflect.get(value, key) : undefined,
    data,
  );

type Definition = {
  readonly innerType?: z.ZodType;
  readonly shape?: Readonly<Record<string, z.ZodType>>;
  readonly element?: z.ZodType;
  readonly valueType?: z.ZodType;
  readonly options?: readonly z.ZodType[];
};

const definition = (schema: z.ZodType | undefined): Definition =>
  schema === undefined ? {} : (schema.def as Definition);

/** The schema that stands at a path, seen through optional and union; keeps the outermost description. */
const at = (schema: z.ZodType | undefined, path: readonly PropertyKey[]): z.ZodType | undefined => {
  const [key, ...rest] = path;
  if (key === undefined || schema === undefined) return described(schema);
  const def = definition(schema);
  if (def.innerType !== undefined) return at(def.innerType, path);
  if (def.options !== undefined)
    return def.options.map((option) => at(option, path)).find((found) => found !== undefined);
  return at(def.shape?.[String(key)] ?? def.element ?? def.valueType, rest);
};

const described = (schema: z.ZodType | undefined): z.ZodType | undefined => {
  const inner = definition(schema).innerType;
  return schema?.description === undefined && inner !== undefined ? described(inner) : schema;
};

const shapeOf = (schema: z.ZodType | undefined): Readonly<Record<string, z.ZodType>> | null => {
  const def = definition(schema);
  if (def.shape !== undefined) return def.shape;
  if (def.innerType !== undefined) return shapeOf(def.innerType);
  return def.options?.map(shapeOf).find((shape) => shape !== null) ?? null;
};

const shapeAt = (schema: z.ZodType, path: readonly PropertyKey[]): Readonly<Record<string, z.ZodType>> | null =>
  shapeOf(at(schema, path));
