/** Asks for light answers 20 times a second, as a person's page does; on the end of its input it tells how long they took, ms. */
const [address = "", headers = "{}", ...paths] = process.argv.slice(2);
const took: number[] = [];
let failed = 0;

const ask = async (path: string): Promise<void> => {
  const begun = performance.now();
  try {
    const answer = await fetch(`${address}${path}`, { headers: JSON.parse(headers) as Record<string, string> });
    await answer.arrayBuffer();
    if (!answer.ok) failed++;
    took.push(performance.now() - begun);
  } catch {
    failed++;
  }
};

let turn = 0;
const timer = setInterval(() => void ask(paths[turn++ % paths.length] ?? "/healthz"), 50);
process.stdin.resume().on("end", () => {
  clearInterval(timer);
  took.sort((a, b) => a - b);
  const at = (share: number) => took[Math.min(took.length - 1, Math.floor(share * took.length))] ?? 0;
  process.stdout.write(JSON.stringify({ asked: took.length, failed, p50: at(0.5), p99: at(0.99), most: at(1) }));
});
