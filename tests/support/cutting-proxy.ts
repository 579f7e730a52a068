import type { AddressInfo } from "node:net";
import { connect, createServer, type Server, type Socket } from "node:net";

/** A stretch of net between a phone and the laptop. */
export interface CuttingProxy {
  readonly port: number;
  /** Bytes that went towards the laptop, headers included. */
  readonly sent: () => number;
  /** Connections that were cut. */
  readonly cuts: () => number;
  close(): Promise<void>;
}

/** Numbers from 0 to 1 that are the same in every run (mulberry32). */
export const numbersFrom = (seed: number) => (): number => {
  seed = (seed + 0x6d2b79f5) | 0;
  let t = Math.imul(seed ^ (seed >>> 15), 1 | seed);
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
  return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
};

/** When a connection is to be cut: after so many bytes towards the laptop, or after so many ms; null leaves it whole. */
export type Cut = { readonly bytes: number } | { readonly ms: number } | null;

/**
 * Passes connections on to a port, each cut as `cutOf` says for it, both ways at once and without a farewell. `bytesPerSecond` slows
 * what goes towards the laptop.
 */
export const cuttingProxy = async (to: number, cutOf: () => Cut, bytesPerSecond?: number): Promise<CuttingProxy> => {
  let [sent, cuts] = [0, 0];
  const sockets = new Set<Socket>();
  const server: Server = createServer((phone) => {
    const laptop = connect(to, "127.0.0.1");
    const cut = cutOf();
    let left = cut && "bytes" in cut ? cut.bytes : Number.POSITIVE_INFINITY;
    const sever = () => {
      if (phone.destroyed) return;
      cuts++;
      phone.resetAndDestroy();
      laptop.resetAndDestroy();
    };
    const timer = cut && "ms" in cut ? setTimeout(sever, cut.ms) : undefined;
    for (const [one, other] of [
      [phone, laptop],
      [laptop, phone],
    ] as const) {
      sockets.add(one);
      one.on("error", () => other.destroy());
      one.on("close", () => {
        clearTimeout(timer);
        sockets.delete(one);
        other.end();
      });
    }
    laptop.pipe(phone);
    phone.on("data", (chunk: Buffer) => {
      const passed = chunk.subarray(0, left);
      left -= passed.length;
      sent += passed.length;
      laptop.write(passed);
      if (left <= 0) return sever();
      if (!bytesPerSecond) return;
      phone.pause();
      setTimeout(() => phone.resume(), (1000 * passed.length) / bytesPerSecond);
    });
  });
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  return {
    port: (server.address() as AddressInfo).port,
    sent: () => sent,
    cuts: () => cuts,
    close: () => {
      for (const socket of sockets) socket.destroy();
      return new Promise((done) => server.close(() => done()));
    },
  };
};
