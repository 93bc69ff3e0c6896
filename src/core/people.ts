import { z } from 'zod';
import { fileProblem, schemaTroubles } from './file-problem.js';
import { parseJson } from './parse-json.js';
import { fail, ok, type Result } from './result.js';

/** The people of a shop (`people.json`): who they are, whatever way their name is typed, and who may release held product. */
export const peopleSchema = z
  .strictObject({
    format: z.literal('people/1'),
    people: z
      .array(
        z.strictObject({
          initials: z.string().min(1).max(20),
          name: z.string().min(1).max(200),
          may_release: z.boolean().optional().describe('true: may release held product'),
        }),
      )
      .max(2000),
  })
  .meta({ title: 'holdregister people file', description: 'initials, names, and who may release held product' });

export type People = z.infer<typeof peopleSchema>['people'];

/** Names as one writes them are one: capitals, dots, spaces and dashes make no other person ("QM", "Q.M.", "q m"). */
export const foldName = (name: string): string =>
  name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]/gu, '');

/** Words that stand for no person. */
const NOBODY: ReadonlySet<string> = new Set(['program', 'sensor', 'operator', 'file', 'nobody', '']);

/** Who is meant by a name or initials; null = nobody in the list. */
const personOf = (people: People, typed: string): People[number] | null =>
  people.find(({ initials, name }) => [initials, name].some((known) => foldName(known) === foldName(typed))) ?? null;

/** Why these two may not release together, in words; null = they may. `people` null = the shop keeps no list. */
export const releaseRefusal = (first: string, second: string, people: People | null): string | null => {
  for (const typed of [first, second]) {
    if (NOBODY.has(foldName(typed))) return `"${typed}" is no person: two persons release`;
    if (people === null) continue;
    const person = personOf(people, typed);
    if (person === null) return `"${typed}" is not in people.json`;
    if (person.may_release !== true) return `${person.name} may not release held product, says people.json`;
  }
  const one = (typed: string): string => foldName(personOf(people ?? [], typed)?.name ?? typed);
  return one(first) === one(second) ? `"${first}" and "${second}" are one person: two different persons release` : null;
};

/** A people file from its text; two people who cannot be told apart are refused. */
export const readPeople = (text: string, file: string): Result<People> => {
  const json = parseJson(text, file);
  if (!json.ok) return json;
  const read = peopleSchema.safeParse(json.value);
  if (!read.success) return fileProblem(file, schemaTroubles(peopleSchema, json.value, read.error.issues));
  const seen = new Map<string, string>();
  for (const { initials, name } of read.data.people)
    for (const known of new Set([foldName(initials), foldName(name)])) {
      const other = seen.get(known);
      if (other !== undefined) return fail(`${file}: ${other} and ${name} cannot be told apart by "${initials}"`, file);
      seen.set(known, name);
    }
  return ok(read.data.people);
};
