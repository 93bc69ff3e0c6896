import { parseSync } from 'vite';

/** One small change to a source file that makes it another program; `at` and `end` are places in its text. */
export type Mutant = {
  readonly at: number;
  readonly end: number;
  readonly put: string;
  /** What was done, for the reader: `< to <=`. */
  readonly change: string;
};

type Node = { readonly type: string; readonly start: number; readonly end: number } & Readonly<Record<string, unknown>>;

/**
 * Every single mutation of a TypeScript text: comparisons moved by one or turned about, operators exchanged, numbers moved by one,
 * truth values turned about, conditions decided either way, statements dropped, least for most and some for every. Words and types are
 * left alone; what the fallback behind `??` says is left too, as most of those stand only for the compiler.
 */
export const mutantsOf = (file: string, text: string): readonly Mutant[] => {
  const found: Mutant[] = [];
  walk(parseSync(file, text).program as unknown as Node, (node) => {
    found.push(...changesOf(node, text));
  });
  return found.filter(({ at, end, put }) => text.slice(at, end) !== put).sort((a, b) => a.at - b.at);
};

/** The text with one mutation made. */
export const mutated = (text: string, { at, end, put }: Mutant): string => text.slice(0, at) + put + text.slice(end);

const walk = (node: Node, visit: (node: Node) => void): void => {
  if (/^(Import|TS(?!AsExpression|SatisfiesExpression|NonNullExpression))/.test(node.type)) return;
  visit(node);
  for (const [key, value] of Object.entries(node)) {
    if (node.type === 'LogicalExpression' && node.operator === '??' && key === 'right') continue;
    if (/^(typeAnnotation|typeParameters|typeArguments|returnType)$/.test(key)) continue;
    for (const child of Array.isArray(value) ? value : [value]) if (isNode(child)) walk(child, visit);
  }
};

const isNode = (value: unknown): value is Node =>
  typeof value === 'object' && value !== null && typeof (value as Node).type === 'string';

const OPERATORS: Readonly<Record<string, readonly string[]>> = {
  '<': ['<=', '>='],
  '<=': ['<', '>'],
  '>': ['>=', '<='],
  '>=': ['>', '<'],
  '===': ['!=='],
  '!==': ['==='],
  '+': ['-'],
  '-': ['+'],
  '*': ['/'],
  '/': ['*'],
  '%': ['*'],
  '&&': ['||'],
  '||': ['&&'],
  '+=': ['-='],
  '-=': ['+='],
};

const NAMES: Readonly<Record<string, string>> = {
  min: 'max',
  max: 'min',
  some: 'every',
  every: 'some',
  floor: 'ceil',
  ceil: 'floor',
};

const changesOf = (node: Node, text: string): readonly Mutant[] => {
  const part = (value: unknown): string => (isNode(value) ? text.slice(value.start, value.end) : '');
  const whole = (put: string, change: string): Mutant => ({ at: node.start, end: node.end, put, change });
  switch (node.type) {
    case 'BinaryExpression':
    case 'LogicalExpression':
    case 'AssignmentExpression':
      return operatorChanges(node, text);
    case 'UnaryExpression':
      return node.operator === '!' || node.operator === '-'
        ? [whole(`(${part(node.argument)})`, `${String(node.operator)} dropped`)]
        : [];
    case 'Literal':
      if (typeof node.value === 'number') return [whole(`(${node.value} + 1)`, `${node.value} to ${node.value + 1}`)];
      if (typeof node.value === 'boolean') return [whole(String(!node.value), `${node.value} to ${!node.value}`)];
      return [];
    case 'ConditionalExpression':
      return [
        whole(`(${part(node.consequent)})`, `always the first of "${brief(part(node.test))}"`),
        whole(`(${part(node.alternate)})`, `never the first of "${brief(part(node.test))}"`),
      ];
    case 'IfStatement':
      return node.alternate === null ? [whole(';', `dropped: ${brief(part(node))}`)] : [];
    case 'ExpressionStatement':
      return [whole(';', `dropped: ${brief(part(node))}`)];
    case 'MemberExpression': {
      const { property } = node;
      const other = isNode(property) && node.computed !== true ? NAMES[part(property)] : undefined;
      return isNode(property) && other !== undefined
        ? [{ at: property.start, end: property.end, put: other, change: `${part(property)} to ${other}` }]
        : [];
    }
    default:
      return [];
  }
};

const operatorChanges = (node: Node, text: string): readonly Mutant[] => {
  const { left, right, operator } = node;
  if (!isNode(left) || !isNode(right) || typeof operator !== 'string') return [];
  // Joined words are no sum.
  if (operator.startsWith('+') && [left, right].some((side) => /^['`]/.test(text.slice(side.start, side.end))))
    return [];
  const at = text.indexOf(operator, left.end);
  return (OPERATORS[operator] ?? []).map((put) => ({
    at,
    end: at + operator.length,
    put,
    change: `${operator} to ${put}`,
  }));
};

const brief = (text: string): string => {
  const line = text.replaceAll(/\s+/g, ' ');
  return line.length > 60 ? `${line.slice(0, 57)}...` : line;
};
