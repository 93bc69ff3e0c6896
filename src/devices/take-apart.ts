import type { Fields } from './profile-fields.js';

/** A piece of a message: text, or the number in a register. */
export type Piece = string | number;

/** Pieces in the order of `names`, or null when the message does not have the form. */
export type TakeApart = {
  readonly names: readonly string[];
  readonly pieces: (body: string) => readonly Piece[] | null;
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

const delimited = (by: string, names: readonly string[]): TakeApart => ({
  names,
  pieces: (body) => {
    const pieces = body.split(by, names.length + 1);
    return pieces.length === names.length ? pieces : null;
  },
});

const columns = (
  width: number,
  list: readonly { readonly name: string; readonly from: number; readonly length: number }[],
): TakeApart => ({
  names: list.map((c) => c.name),
  pieces: (body) => (body.length === width ? list.map((c) => body.slice(c.from - 1, c.from - 1 + c.length)) : null),
});

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

const pattern = (text: string): TakeApart => {
  const { names, literals } = patternParts(text);
  const head = literals[0] ?? '';
  return {
    names,
    pieces: (body) => {
      if (!body.startsWith(head)) return null;
      const pieces: string[] = [];
      let at = head.length;
      for (let k = 0; k < names.length; k += 1) {
        const literal = literals[k + 1] ?? '';
        const last = k === names.length - 1;
        const to = last ? (literal === '' ? body.length : body.length - literal.length) : body.indexOf(literal, at);
        if (to < at || (last && !body.endsWith(literal))) return null;
        pieces.push(body.slice(at, to));
        at = to + literal.length;
      }
      return pieces;
    },
  };
};

type Registers = Extract<Fields, { kind: 'registers' }>;

/** An answer of Modbus: address, function, byte count, then two bytes a register. */
const registers = (fields: Registers): TakeApart => ({
  names: fields.registers.map((r) => r.name),
  pieces: (body) => {
    const bytes = Buffer.from(body, 'latin1');
    if (bytes.length < 3 || bytes[0] !== fields.unit || bytes[1] !== fields.function || bytes[2] !== bytes.length - 3)
      return null;
    const data = bytes.subarray(3);
    const pieces: number[] = [];
    for (const register of fields.registers) {
      const wide = register.type === 'int32' || register.type === 'uint32' || register.type === 'float32';
      const from = register.at * 2;
      if (from + (wide ? 4 : 2) > data.length) return null;
      pieces.push(
        wide
          ? wideNumber(data, from, register.type, register.words)
          : register.type === 'int16'
            ? data.readInt16BE(from)
            : data.readUInt16BE(from),
      );
    }
    return pieces;
  },
});

const wideNumber = (data: Buffer, from: number, type: string, words: 'high-first' | 'low-first'): number => {
  const four = Buffer.alloc(4);
  data.copy(four, 0, words === 'high-first' ? from : from + 2, words === 'high-first' ? from + 2 : from + 4);
  data.copy(four, 2, words === 'high-first' ? from + 2 : from, words === 'high-first' ? from + 4 : from + 2);
  return type === 'int32' ? four.readInt32BE(0) : type === 'uint32' ? four.readUInt32BE(0) : four.readFloatBE(0);
};
