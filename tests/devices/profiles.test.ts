import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadProfile, readProfile } from '../../src/devices/read-profile.js';
import { profileText } from './support/profile-file.js';

const names = readdirSync(new URL('../../devices/', import.meta.url)).filter((name) => name.endsWith('.json'));

/** The message for a profile file with parts replaced; '' when it is taken. */
const messageFor = (change: Record<string, unknown>): string => {
  const read = readProfile(JSON.stringify({ ...JSON.parse(profileText('line-delimited.json')), ...change }), 'my.json');
  return read.ok ? '' : read.problem.message;
};

describe('profiles shipped with the program', () => {
  it.each(names)('%s understands its own examples and refuses what it says it refuses', (name) => {
    const read = readProfile(profileText(name), name);
    expect(read.ok ? '' : read.problem.message).toBe('');
  });
});

describe('a profile that does not hold together is refused with one clear message', () => {
  it.each([
    ['an unknown key', { frames: {} }, /my\.json: frames: unknown key, did you mean "frame"\?/],
    ['a wrong word', { encoding: 'asci' }, /encoding: found "asci".*did you mean "ascii"/],
    [
      'a field nobody names',
      { counter: { field: 'metres' } },
      /counter\.field: found "metres"; fields name only station, along, across, strength/,
    ],
    ['a decimal mark that parts the fields', { decimal: ',' }, /decimal: found ",", which also parts the fields/],
    [
      'an example that does not mean what it says',
      { examples: [{ line: '2,0.1,0,80\r\n', gives: [{ station: '2', along_mm: 0.2 }] }] },
      /examples\[0\]: 2,0\.1,0,80<0D><0A> should give/,
    ],
    [
      'a line it should refuse but takes',
      { refused: [{ line: '2,0.1,0,80\r\n', why: 'number' }] },
      /refused\[0\].*should be refused, but gives/,
    ],
    [
      'a line refused for another reason',
      { refused: [{ line: '2,0.1,0\r\n', why: 'number' }] },
      /should be refused for "number", but is for "fields"/,
    ],
    ['an example with neither text nor hex', { examples: [{ gives: 'heartbeat' }] }, /examples\[0\]: give either line/],
    [
      'no examples',
      { examples: [] },
      /examples: found a list of 0; allowed: a list of at least one message and what it gives/,
    ],
    [
      'no refused lines',
      { refused: undefined },
      /refused: missing; allowed: a list of at least one message that must be refused/,
    ],
    [
      'no frame',
      { frame: undefined },
      /frame: missing; allowed: a block with "kind": "line", "between", "length" or "silence"/,
    ],
    [
      'a speed as text',
      { port: { baud: '9600' } },
      /port\.baud: found "9600"; allowed: a speed in baud, as 9600; write numbers without quotes/,
    ],
    [
      'a scale of 0',
      { readings: [{ station: '2', along: { field: 'along', scale: 0 } }] },
      /readings\[0\]\.along\.scale: .*above 0/,
    ],
    ['a terminator that is no text', { frame: { kind: 'line', end: 10 } }, /frame\.end: found 10; allowed: /],
    [
      'a pattern that names nothing',
      { fields: { kind: 'pattern', pattern: 'abc' } },
      /fields\.pattern: names no value/,
    ],
    ['two values side by side', { fields: { kind: 'pattern', pattern: '{station}{along}' } }, /side by side/],
    ['a fixed length that cannot be found again', { frame: { kind: 'length', bytes: 20 } }, /frame\.start: missing/],
  ])('%s', (_what, change, message) => {
    expect(messageFor(change)).toMatch(message);
  });

  it('no file named, no such file, a folder', async () => {
    const told = async (path: string): Promise<string> => {
      const read = await loadProfile(path);
      return read.ok ? '' : read.problem.message;
    };
    expect(await told('')).toMatch(/say with --profile how the sensor talks/);
    expect(await told('no-such.json')).toBe('no-such.json: there is no such profile file');
    expect(await told('devices')).toMatch(/devices: the profile cannot be read/);
  });

  it('broken JSON', () => {
    const read = readProfile('{ "format": "device/1", }', 'my.json');
    expect(read.ok ? '' : read.problem.message).toMatch(/my\.json: line 1 column \d+: a comma/);
  });
});
