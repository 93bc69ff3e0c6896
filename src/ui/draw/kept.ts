/** A drawing that is made anew only when what it is made from changed: most keys change one part of the board. Keeps the last one. */
export function kept<A extends readonly unknown[], R>(make: (...from: A) => R): (...from: A) => R {
  let last: { readonly from: A; readonly made: R } | null = null;
  return (...from) => {
    if (last !== null && last.from.length === from.length && last.from.every((one, i) => Object.is(one, from[i])))
      return last.made;
    last = { from, made: make(...from) };
    return last.made;
  };
}
