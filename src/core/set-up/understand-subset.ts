import { quoted } from '../quoted.js';
import { fail, ok, type Result } from '../result.js';

/** Some of the stations named: `all`, `none`, `1 2 3`, `1-4`, `all but 6`. In the order of the press. */
export const understandSubset = (text: string, ids: readonly string[]): Result<readonly string[]> => {
  const typed = text.trim();
  if (/^none$/i.test(typed)) return ok([]);
  const but = /^(?:all\s+)?(?:but|except|not)\s+(.+)$/i.exec(typed);
  if (but?.[1] !== undefined) {
    const out = named(but[1], ids);
    return out.ok ? ok(ids.filter((id) => !out.value.includes(id))) : out;
  }
  if (/^all$/i.test(typed)) return ok(ids);
  const inside = named(typed, ids);
  return inside.ok ? ok(ids.filter((id) => inside.value.includes(id))) : inside;
};

const named = (typed: string, ids: readonly string[]): Result<readonly string[]> => {
  const found: string[] = [];
  const parts = typed.includes(',') ? typed.split(',') : ids.includes(typed) ? [typed] : typed.split(/\s+(?:and\s+)?/);
  for (const part of parts.map((name) => name.trim()).filter(Boolean)) {
    const id = ids.find((one) => one.toLowerCase() === part.toLowerCase());
    const [first, last] = part.split(/\s*[-–]\s*/).map((end) => ids.indexOf(end));
    if (id !== undefined) found.push(id);
    else if (first !== undefined && last !== undefined && first >= 0 && last >= first)
      found.push(...ids.slice(first, last + 1));
    else return fail(`there is no station ${quoted(part)} here; the stations are ${ids.join(', ')}`);
  }
  return ok(found);
};
