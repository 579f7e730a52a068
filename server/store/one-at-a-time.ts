/** Runs tasks one after the other in the order in which they come; one that fails does not hold up the next. */
export const oneAtATime = (): {
  readonly run: <T>(task: () => Promise<T>) => Promise<T>;
  readonly idle: () => Promise<void>;
} => {
  let last: Promise<void> = Promise.resolve();
  return {
    run: (task) => {
      const result = last.then(task);
      last = result.then(
        () => undefined,
        () => undefined,
      );
      return result;
    },
    idle: () => last,
  };
};
