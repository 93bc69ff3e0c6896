/** Waits for a condition; fails loudly when it never comes true. */
export const until = async (what: string, condition: () => boolean, withinMs = 10_000): Promise<void> => {
  const start = performance.now();
  while (!condition()) {
    if (performance.now() - start > withinMs) throw new Error(`waited ${withinMs} ms in vain for: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
};
