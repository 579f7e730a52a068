const width = 30;

/** One line that says how far a task is: drawn over and over on a terminal, elsewhere one line at the start and one at the end. */
export const progressBar = (
  what: string,
  stream: NodeJS.WriteStream = process.stderr,
): ((done: number, of: number) => void) => {
  let last = "";
  return (done, of) => {
    if (of === 0) return;
    const filled = Math.round((width * done) / of);
    const line = `${what} [${"#".repeat(filled)}${"-".repeat(width - filled)}] ${done} of ${of}`;
    if (line === last) return;
    const first = last === "";
    last = line;
    if (stream.isTTY) stream.write(`\r${line}${done === of ? "\n" : ""}`);
    else if (first || done === of) stream.write(`${what}: ${done} of ${of}\n`);
  };
};
