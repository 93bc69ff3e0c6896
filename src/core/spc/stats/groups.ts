import { quoted } from '../../quoted.js';
import { fail, ok, type Result } from '../../result.js';
import { type NumberColumn, type Table, valueColumn, wordsOf } from './table.js';

/** Readings gathered by the word in the group column, groups in the order in which they first appear. */
export type Grouped = {
  readonly column: string;
  readonly names: readonly string[];
  readonly groups: readonly (readonly number[])[];
  readonly values: NumberColumn;
};

/** Refused: a reading without a group, groups of unequal size (a blank reading makes its group short). */
export const groupsOf = (table: Table, column: string | undefined, group: string): Result<Grouped> => {
  const words = wordsOf(table, group);
  if (!words.ok) return words;
  const values = valueColumn(table, column, [group]);
  if (!values.ok) return values;
  const held = new Map<string, number[]>();
  for (const [at, value] of values.value.values.entries()) {
    const word = words.value[at] ?? '';
    if (value === null && word === '') continue;
    if (word === '') {
      return fail(`a reading without a ${quoted(group)}`, `${table.file}:${table.rows[at]?.line ?? 0}`);
    }
    const members = held.get(word) ?? [];
    if (value !== null) members.push(value);
    held.set(word, members);
  }
  const names = [...held.keys()];
  const groups = [...held.values()];
  const size = groups[0]?.length ?? 0;
  const odd = groups.findIndex((members) => members.length !== size);
  if (odd >= 0) {
    return fail(
      `unequal groups: ${group} ${quoted(names[odd] ?? '')} has ${groups[odd]?.length} readings, ` +
        `${quoted(names[0] ?? '')} has ${size}; every group must have as many`,
      table.file,
    );
  }
  return ok({ column: group, names, groups, values: values.value });
};
