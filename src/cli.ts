#!/usr/bin/env node
// React's development build keeps every frame it ever drew: this must stand before anything imports it.
process.env.NODE_ENV ??= 'production';

// Ink 8 uses it; Node has it from 22 on.
if (!('withResolvers' in Promise)) {
  Object.defineProperty(Promise, 'withResolvers', {
    value: <T>() => {
      let resolve: (value: T | PromiseLike<T>) => void = () => {};
      let reject: (reason?: unknown) => void = () => {};
      const promise = new Promise<T>((yes, no) => {
        resolve = yes;
        reject = no;
      });
      return { promise, resolve, reject };
    },
  });
}

const { main } = await import('./main.js');
process.exitCode = await main(process.argv.slice(2));
