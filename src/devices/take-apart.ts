import type { Fields } from './profile-fields.js';

/**
 * The pieces of one message, by place in the list of names: as text, or as where they stand in the body, so that a number can be read without
 * copying it. Registers are numbers from the start.
 */
export type TakeApart = {
  readonly names: readonly string[];
  /** Whether the text from `begin` to before `end` has the form; then the places of its pieces stand in `from` and `to`, or the numbers in `numbers`. */
  readonly cut: (text: string, begin: number, end: number) => boolean;
  readonly from: readonly number[];
  readonly to: readonly number[];
  readonly numbers: readonly number[] | null;
  /** Whether the last text cut was seen to be nothing but printable ASCII; false = not looked, or not. */
  readonly plain?: () => boolean;
};

/** How a profile's messages come apart into named pieces, ready to be used many times. */
export const takeApart = (fields: Fields): TakeApart => {
  switch (fields.kind) {
    case 'delimited':
      return delimited(fields.by, fields.names);
    case 'columns':
      return columns(fields.width, fields.columns);
    case 'pattern':
      return pattern(fields.pattern);
    case 'registers':
      return registers(fields);
  }
};

const delimited = (by: string, names: readonly string[]): TakeApart => {
  const from = names.map(() => 0);
  const to = names.map(() => 0);
  const last = names.length - 1;
  const one = by.length === 1 ? by.charCodeAt(0) : -1;
  let plain = false;
  const cutByOne = (text: string, begin: number, end: number): boolean => {
    plain = false;
    // The sign of this is set by any character before the blank or after the tilde: looked at on the way, without a question for the usual line.
    let odd = 0;
    let i = 0;
    let at = begin;
    for (let k = begin; k < end; k += 1) {
      const c = text.charCodeAt(k);
      odd |= (c - 0x20) | (0x7e - c);
      if (c !== one) continue;
      if (i === last) return false;
      from[i] = at;
      to[i] = k;
      at = k + 1;
      i += 1;
    }
    from[i] = at;
    to[i] = end;
    plain = odd >= 0;
    return i === last;
  };
  const cut = (text: string, begin: number, end: number): boolean => {
    const body = text.slice(begin, end);
    let at = 0;
    for (let i = 0; i < last; i += 1) {
      const next = body.indexOf(by, at);
      if (next < 0) return false;
      from[i] = begin + at;
      to[i] = begin + next;
      at = next + by.length;
    }
    if (body.indexOf(by, at) >= 0) return false;
    from[last] = begin + at;
    to[last] = end;
    return true;
  };
  return { names, from, to, numbers: null, cut: one >= 0 ? cutByOne : cut, plain: () => plain };
};

const columns = (
  width: number,
  list: readonly { readonly name: string; readonly from: number; readonly length: number }[],
): TakeApart => {
  const from = list.map(() => 0);
  const to = list.map(() => 0);
  const cut = (_text: string, begin: number, end: number): boolean => {
    if (end - begin !== width) return false;
    for (const [i, c] of list.entries()) {
      from[i] = begin + c.from - 1;
      to[i] = begin + c.from - 1 + c.length;
    }
    return true;
  };
  return { names: list.map((c) => c.name), from, to, numbers: null, cut };
};

const PART = /\{([A-Za-z][A-Za-z0-9_]{0,30}|_)\}/g;

/** "CH{ch} L={along}": literal text and names in turn; a value runs to the next literal text. One pass, so never slow. */
export const patternParts = (
  text: string,
): { readonly names: readonly string[]; readonly literals: readonly string[] } => {
  const names: string[] = [];
  const literals: string[] = [];
  let at = 0;
  for (const match of text.matchAll(PART)) {
    literals.push(text.slice(at, match.index));
    names.push(match[1] === '_' ? '' : (match[1] ?? ''));
    at = match.index + match[0].length;
  }
  literals.push(text.slice(at));
  return { names, literals };
};

const pattern = (form: string): TakeApart => {
  const { names, literals } = patternParts(form);
  const head = literals[0] ?? '';
  const from = names.map(() => 0);
  const to = names.map(() => 0);
  const cut = (text: string, begin: number, stop: number): boolean => {
    const body = text.slice(begin, stop);
    if (!body.startsWith(head)) return false;
    let at = head.length;
    for (let k = 0; k < names.length; k += 1) {
      const literal = literals[k + 1] ?? '';
      const last = k === names.length - 1;
      const end = last ? body.length - literal.length : body.indexOf(literal, at);
      if (end < at || (last && !body.endsWith(literal))) return false;
      from[k] = begin + at;
      to[k] = begin + end;
      at = end + literal.length;
    }
    return true;
  };
  return { names, from, to, numbers: null, cut };
};

type Registers = Extract<Fields, { kind: 'registers' }>;

/** An answer of Modbus: address, function, byte count, then two bytes a register. */
const registers = (fields: Registers): TakeApart => {
  const numbers = fields.registers.map(() => 0);
  const cut = (text: string, begin: number, end: number): boolean => {
    const bytes = Buffer.from(text.slice(begin, end), 'latin1');
    if (bytes.length < 3 || bytes[0] !== fields.unit || bytes[1] !== fields.function || bytes[2] !== bytes.length - 3)
      return false;
    const data = bytes.subarray(3);
    for (const [i, register] of fields.registers.entries()) {
      const wide = register.type === 'int32' || register.type === 'uint32' || register.type === 'float32';
      const at = register.at * 2;
      if (at + (wide ? 4 : 2) > data.length) return false;
      numbers[i] = wide
        ? wideNumber(data, at, register.type, register.words)
        : register.type === 'int16'
          ? data.readInt16BE(at)
          : data.readUInt16BE(at);
    }
    return true;
  };
  return { names: fields.registers.map((r) => r.name), from: [], to: [], numbers, cut };
};

const wideNumber = (data: Buffer, at: number, type: string, words: 'high-first' | 'low-first'): number => {
  const four = Buffer.alloc(4);
  data.copy(four, 0, words === 'high-first' ? at : at + 2, words === 'high-first' ? at + 2 : at + 4);
  data.copy(four, 2, words === 'high-first' ? at + 2 : at, words === 'high-first' ? at + 4 : at + 2);
  return type === 'int32' ? four.readInt32BE(0) : type === 'uint32' ? four.readUInt32BE(0) : four.readFloatBE(0);
};
