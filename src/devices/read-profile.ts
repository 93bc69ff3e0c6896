import { readFile, stat } from 'node:fs/promises';
import { fileProblem, schemaTroubles } from '../core/file-problem.js';
import { parseJson } from '../core/parse-json.js';
import { fail, ok, type Result } from '../core/result.js';
import { Profile } from './profile.js';
import { profileTroubles } from './profile-troubles.js';
import { tryExamples } from './try-examples.js';

/** Reads the text of a profile. One that does not understand its own examples, or takes a line it should refuse, is refused itself. */
export const readProfile = (text: string, fileName: string): Result<Profile> => {
  const json = parseJson(text, fileName);
  if (!json.ok) return json;
  const read = Profile.safeParse(json.value);
  if (!read.success) return fileProblem(fileName, schemaTroubles(Profile, json.value, read.error.issues));
  const profile = read.data;
  const troubles = profileTroubles(profile);
  const all = troubles.length > 0 ? troubles : tryExamples(profile);
  return all.length > 0 ? fileProblem(fileName, all) : ok(profile);
};

const LARGEST = 1_000_000;

/** Reads a profile file. */
export const loadProfile = async (path: string): Promise<Result<Profile>> => {
  if (path === '')
    return fail('say with --profile how the sensor talks: one of the devices/*.json files, or one of your own');
  let text: string;
  try {
    // A pipe would be waited for without end.
    const found = await stat(path);
    if (!found.isFile() && !found.isDirectory()) return fail(`${path}: the profile is no plain file`, path);
    if (found.size > LARGEST)
      return fail(`${path}: no profile is larger than ${LARGEST / 1e6} MB; is it the right file?`, path);
    text = await readFile(path, 'utf8');
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : '';
    if (code === 'ENOENT') return fail(`${path}: there is no such profile file`, path);
    return fail(`${path}: the profile cannot be read: ${error instanceof Error ? error.message : String(error)}`, path);
  }
  return readProfile(text, path);
};
