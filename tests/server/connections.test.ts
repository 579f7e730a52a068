import { createServer } from "node:http";
import { type AddressInfo, connect } from "node:net";
import { expect, onTestFinished, test, vi } from "vitest";
import { patience, watchConnections } from "../../server/connections.ts";
import { limits } from "../../server/limits.ts";

/** A server that reads bodies, with a clock of the test; `tick` lets so many ms pass, looking as often as it does in earnest. */
const watched = async () => {
  vi.useFakeTimers({ toFake: ["setInterval", "clearInterval"] });
  let at = 0;
  const server = createServer((request, response) => {
    request.on("error", () => undefined).resume();
    request.on("end", () => setTimeout(() => response.end("whole"), 50));
  });
  watchConnections(server, () => at);
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  onTestFinished(() => {
    server.closeAllConnections();
    server.close();
    vi.useRealTimers();
  });
  const { port } = server.address() as AddressInfo;
  const client = async (length: number) => {
    const socket = connect(port, "127.0.0.1");
    const ended = new Promise<string>((done) => {
      let text = "";
      socket.on("data", (bytes) => {
        text += String(bytes);
        if (text.includes("whole")) done("answered");
      });
      socket.on("close", () => done("closed")).on("error", () => done("closed"));
    });
    socket.write(`POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: ${length}\r\n\r\n`);
    await new Promise((done) => setTimeout(done, 50));
    /** Sends so many bytes, then lets time pass. */
    const send = async (bytes: number, thenMs: number) => {
      socket.write(Buffer.alloc(bytes));
      await new Promise((done) => setTimeout(done, 50));
      for (let passed = 0; passed < thenMs; passed += limits.slow.checkMs) {
        at += limits.slow.checkMs;
        vi.advanceTimersByTime(limits.slow.checkMs);
      }
      await new Promise((done) => setTimeout(done, 20));
    };
    return { socket, ended, send };
  };
  return { client, server };
};

test("B6: a body that stands still for 20 s is cut off", async () => {
  const { client } = await watched();
  const { ended, send } = await client(1_000_000);
  await send(500_000, limits.slow.idleMs + 2 * limits.slow.checkMs);
  expect(await ended).toBe("closed");
});

test("B6: a body that crawls is cut off after 30 s, however often a byte comes", async () => {
  const { client } = await watched();
  const { ended, send, socket } = await client(1_000_000);
  for (let k = 0; k < 8; k++) await send(100, 5000);
  expect(socket.destroyed).toBe(true);
  expect(await ended).toBe("closed");
});

test("B6: a body at 20 kB/s arrives, though it takes a minute", async () => {
  const { client } = await watched();
  const { ended, send } = await client(1_200_000);
  for (let k = 0; k < 12; k++) await send(100_000, 5000);
  expect(await ended).toBe("answered");
});

test("A6: no more connections are taken than the system has open files for", async () => {
  const { server } = await watched();
  expect(server.maxConnections).toBeGreaterThan(7);
  expect(server.maxConnections).toBeLessThanOrEqual(limits.connections);
});

test("B6: headers that come a byte a second are answered with 408 within 15 s", { timeout: 30_000 }, async () => {
  const server = createServer(patience, (_request, response) => response.end());
  onTestFinished(() => {
    server.closeAllConnections();
    server.close();
  });
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  const begun = performance.now();
  const socket = connect((server.address() as AddressInfo).port, "127.0.0.1");
  let said = "";
  socket.on("data", (bytes) => {
    said += String(bytes);
  });
  const closed = new Promise<void>((done) => void socket.on("error", () => undefined).on("close", () => done()));
  socket.write("GET / HTTP/1.1\r\nHost: ");
  const drip = setInterval(() => socket.write("x"), 1000);
  onTestFinished(() => clearInterval(drip));
  await closed;
  expect(said).toMatch(/^HTTP\/1\.1 408 /);
  expect((performance.now() - begun) / 1000).toBeLessThan(15);
});
