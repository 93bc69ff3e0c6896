import { existsSync, writeFileSync } from 'node:fs';
import { z } from 'zod';
import { fail, ok, type Result } from '../core/result.js';
import { type Seal, sealSchema } from '../report/seal-schema.js';
import { diskProblem } from '../store/disk-problem.js';
import { readChain } from '../store/record-chain.js';
import { type Exit, type Io, MACHINE, NO, OK, refuse } from './exit.js';
import { findRunToRead } from './find-run.js';
import { codeFor } from './problem-code.js';
import { readText } from './read-setup.js';

/** Prints count and head of a run's chain for the job ticket, or writes them to a file that is not there yet. */
export const seal = async (
  options: { readonly data: string; readonly run?: string; readonly out?: string; readonly json?: boolean },
  io: Io,
): Promise<Exit> => {
  const folder = findRunToRead(options.data, options.run);
  if (!folder.ok) return refuse(io, folder.problem.message, codeFor(folder.problem));
  const chain = readChain(folder.value);
  if (!chain.ok) return refuse(io, chain.problem.message, MACHINE);
  const { entries, head, broken } = chain.value;
  if (broken !== null)
    return refuse(io, `entry ${broken.seq} does not follow from those before it (${broken.file}:${broken.line})`, NO);
  const run = folder.value.split(/[\\/]/).at(-1) ?? '';
  const made: Seal = { format: 'seal/1', run, entries, head, sealed_at: new Date().toISOString() };
  const json = `${JSON.stringify(made)}\n`;
  if (options.out === undefined) {
    io.out(options.json === true ? json : `Run ${run}: ${entries} entries, chain ${head}\n`);
    return OK;
  }
  if (existsSync(options.out)) return refuse(io, `${options.out} is there already; a seal is never written over`, NO);
  try {
    writeFileSync(options.out, json, { flag: 'wx' });
  } catch (error) {
    return refuse(io, diskProblem(error, 'write', options.out).problem.message, MACHINE);
  }
  if (options.json === true) io.out(json);
  return OK;
};

/** A seal from its file. */
export const readSeal = (file: string): Result<Seal> => {
  const text = readText(file);
  if (!text.ok) return text;
  try {
    const read = sealSchema.safeParse(JSON.parse(text.value));
    return read.success
      ? ok(read.data)
      : fail(`${file} is no seal: ${z.prettifyError(read.error).split('\n')[0]}`, file);
  } catch (error) {
    if (error instanceof SyntaxError) return fail(`${file} is no seal: it is not JSON`, file);
    throw error;
  }
};
