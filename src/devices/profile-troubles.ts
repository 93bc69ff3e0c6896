import type { FileTrouble } from '../core/file-problem.js';
import { quoted } from '../core/quoted.js';
import { checksumWidth } from './checksum.js';
import type { Profile } from './profile.js';
import { patternParts, takeApart } from './take-apart.js';

/** What is wrong between the parts of a profile that each look right: fields nobody names, marks that clash. */
export const profileTroubles = (profile: Profile): readonly FileTrouble[] => [
  ...fieldTroubles(profile),
  ...formTroubles(profile),
  ...checksumTroubles(profile),
  ...exampleTroubles(profile),
];

const fieldTroubles = (profile: Profile): readonly FileTrouble[] => {
  const { fields } = profile;
  const troubles: FileTrouble[] = [];
  if (fields.kind === 'pattern') {
    const { names, literals } = patternParts(fields.pattern);
    if (names.length === 0)
      return [
        {
          path: ['fields', 'pattern'],
          why: 'names no value; write {name} where a value stands, as "CH{ch} L={along}"',
        },
      ];
    if (literals.slice(1, -1).includes('')) {
      return [
        { path: ['fields', 'pattern'], why: 'two values stand side by side; put text between them, or use "columns"' },
      ];
    }
  }
  const names = takeApart(fields).names.filter((name) => name !== '');
  for (const name of new Set(names.filter((name, i) => names.indexOf(name) < i)))
    troubles.push({ path: ['fields'], why: `names ${quoted(name)} twice` });
  const known = new Set(names);
  const need = (field: string | undefined, ...path: PropertyKey[]): void => {
    if (field !== undefined && !known.has(field))
      troubles.push({ path, why: `found ${quoted(field)}; fields name only ${[...known].join(', ')}` });
  };
  for (const [i, rule] of profile.readings.entries()) {
    if (typeof rule.station === 'object') need(rule.station.field, 'readings', i, 'station', 'field');
    for (const key of ['along', 'across', 'strength', 'width', 'status'] as const)
      need(rule[key]?.field, 'readings', i, key, 'field');
    if (rule.along === undefined && rule.across === undefined)
      troubles.push({ path: ['readings', i], why: 'gives neither along nor across' });
    if (rule.strength !== undefined && rule.strength.full === rule.strength.none) {
      troubles.push({
        path: ['readings', i, 'strength', 'full'],
        why: 'is the same as none; nothing can be told between them',
      });
    }
  }
  for (const [i, must] of profile.must.entries()) need(must.field, 'must', i, 'field');
  need(profile.counter?.field, 'counter', 'field');
  return troubles;
};

const formTroubles = (profile: Profile): readonly FileTrouble[] => {
  const { fields, frame, talk } = profile;
  const troubles: FileTrouble[] = [];
  if (fields.kind === 'delimited' && fields.by === profile.decimal) {
    troubles.push({
      path: ['decimal'],
      why: `found ${quoted(profile.decimal)}, which also parts the fields; numbers cannot be told apart`,
    });
  }
  if (fields.kind === 'columns') {
    for (const [i, c] of fields.columns.entries()) {
      if (c.from - 1 + c.length > fields.width)
        troubles.push({
          path: ['fields', 'columns', i],
          why: `ends at ${c.from - 1 + c.length}, beyond the width of ${fields.width}`,
        });
    }
  }
  if ((fields.kind === 'registers') !== (profile.encoding === 'binary')) {
    troubles.push({ path: ['encoding'], why: 'is "binary" for registers, and only for them' });
  }
  if (frame.kind === 'length' && frame.start === undefined && profile.checksum === undefined) {
    troubles.push({
      path: ['frame', 'start'],
      why: 'missing; a fixed length with neither a start mark nor a checksum cannot be found again once a byte is lost',
    });
  }
  if (talk.mode === 'modbus-rtu') {
    if (
      fields.kind !== 'registers' ||
      fields.unit !== talk.unit ||
      fields.function !== (talk.table === 'holding' ? 3 : 4)
    ) {
      troubles.push({
        path: ['fields'],
        why: 'must be "registers" with the unit and function of talk (holding 3, input 4)',
      });
    }
    if (
      profile.checksum?.kind !== 'crc-16-modbus' ||
      profile.checksum.form !== 'bytes' ||
      profile.checksum.order !== 'low-first'
    ) {
      troubles.push({
        path: ['checksum'],
        why: 'must be crc-16-modbus, form "bytes", order "low-first" for Modbus RTU',
      });
    }
    if (frame.kind !== 'silence') troubles.push({ path: ['frame'], why: 'must be "silence" for Modbus RTU' });
  }
  return troubles;
};

const checksumTroubles = (profile: Profile): readonly FileTrouble[] => {
  const { checksum: rule, frame } = profile;
  const behind = frame.kind === 'between' ? frame.after_end : 0;
  const width = rule === undefined ? 0 : checksumWidth(rule.kind) * (rule.form === 'hex' ? 2 : 1);
  const wanted = rule?.place === 'after-end' ? width : 0;
  if (behind !== wanted)
    return [{ path: ['frame', 'after_end'], why: `found ${behind}; the checksum needs ${wanted} behind the end mark` }];
  return [];
};

const exampleTroubles = (profile: Profile): readonly FileTrouble[] =>
  (['examples', 'refused'] as const).flatMap((key) =>
    profile[key].flatMap((example, i) =>
      (example.line === undefined) === (example.hex === undefined)
        ? [{ path: [key, i], why: 'give either line (text) or hex (pairs of digits)' }]
        : [],
    ),
  );
