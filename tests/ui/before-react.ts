/** What the program does before React is loaded: production build, and the one newer API the terminal library needs on Node 20. */
process.env.NODE_ENV ??= 'production';

if (!('withResolvers' in Promise)) {
  Object.defineProperty(Promise, 'withResolvers', {
    value: <T>() => {
      let resolve: (value: T | PromiseLike<T>) => void = () => undefined;
      let reject: (reason?: unknown) => void = () => undefined;
      const promise = new Promise<T>((yes, no) => {
        resolve = yes;
        reject = no;
      });
      return { promise, resolve, reject };
    },
  });
}

export {};
