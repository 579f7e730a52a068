import { mkdtemp, readFile, rm, stat } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, onTestFinished, test } from "vitest";
import { openAccess } from "../../../server/access/access.ts";
import { type AccessShelf, nobody, openAccessShelf } from "../../../server/access/kept-access.ts";
import { makeOffer, pairingLimits } from "../../../server/access/pairing.ts";
import { sessionLimits } from "../../../server/access/sessions.ts";

const minute = 60_000;
const hour = 60 * minute;
const day = 24 * hour;

/** A computer whose wall clock is set at will, and whose uptime only goes on. */
const computer = () => {
  let [wall, up] = [Date.parse("2026-03-03T12:00:00Z"), 5 * hour];
  return {
    clock: { wallMs: () => wall, uptimeMs: () => up },
    pass: (ms: number) => {
      wall += ms;
      up += ms;
    },
    set: (ms: number) => {
      wall = ms;
    },
    /** Off for a time, then on again. */
    restart: (offMs: number) => {
      wall += offMs;
      up = minute;
    },
  };
};

const memory = (): AccessShelf & { kept: typeof nobody } => {
  const shelf = {
    kept: nobody,
    save: async (kept: typeof nobody) => {
      shelf.kept = structuredClone(kept);
    },
  };
  return shelf;
};

const phone = { name: "Jo", device: "phone", role: "hand", delivery: null, record: null } as const;
const jumps = [
  ["a day back", (now: number) => now - day],
  ["a day on", (now: number) => now + day],
  ["ten years on", (now: number) => now + 3650 * day],
  ["an hour back for winter", (now: number) => now - hour],
  ["an hour on for summer", (now: number) => now + hour],
  ["1970", () => 0],
] as const;

describe("A8: whatever the clock says", () => {
  test.each(jumps)("%s: a session, a link and a code last as long as they would, and no longer", async (_, jump) => {
    const { clock, pass, set } = computer();
    const access = openAccess(memory(), { clock });
    const { token, session } = await access.sessions.begin(phone);
    const { secret } = await access.links.make("tarnmill", 1, 14);
    const { offer, code } = makeOffer({ role: "hand", delivery: null, device: "phone" }, clock);
    access.pairing.add(offer);
    set(jump(clock.wallMs()));
    expect(access.sessions.use(token)?.id).toBe(session.id);
    pass(pairingLimits.lastsMs);
    expect(access.pairing.take(code).kind).toBe("wrong");
    pass(sessionLimits.idleMs);
    set(jump(clock.wallMs()));
    expect(access.sessions.use(token)).toBeNull();
    expect(access.links.open(secret)).not.toBeNull();
    pass(14 * day);
    expect(access.links.open(secret)).toBeNull();
  });

  test("used every hour, a session still ends after thirty days", async () => {
    const { clock, pass } = computer();
    const { sessions } = openAccess(memory(), { clock });
    const { token } = await sessions.begin(phone);
    let hours = 0;
    for (; sessions.use(token) !== null; hours++) pass(hour);
    expect(hours).toBe(30 * 24);
  });

  test("a restart keeps sessions, and the time the computer was off counts; a clock set back meanwhile adds nothing", async () => {
    const { clock, pass, restart, set } = computer();
    const shelf = memory();
    const first = openAccess(shelf, { clock });
    const { token } = await first.sessions.begin(phone);
    pass(hour);
    expect(openAccess(shelf, { clock }).sessions.use(token)?.name).toBe("Jo");
    restart(5 * hour);
    expect(openAccess(shelf, { clock }).sessions.use(token)?.name).toBe("Jo");
    restart(13 * hour);
    expect(openAccess(shelf, { clock }).sessions.use(token)).toBeNull();
    set(0);
    pass(13 * hour);
    expect(openAccess(shelf, { clock }).sessions.use(token)).toBeNull();
  });
});

describe("D4, D16: what is kept", () => {
  test("only hashes, for the owner's eyes alone; a damaged file lets nobody in and is laid aside", async () => {
    const folder = await mkdtemp(join(tmpdir(), "leafledger-access-"));
    onTestFinished(() => rm(folder, { recursive: true }));
    const access = openAccess(await openAccessShelf(folder));
    const { token } = await access.sessions.begin(phone);
    const { secret } = await access.links.make("tarnmill", 1, 14);
    expect(Buffer.from(token, "base64url")).toHaveLength(32);
    const text = await readFile(join(folder, "access.json"), "utf8");
    expect(text).not.toContain(token);
    expect(text).not.toContain(secret);
    expect((await stat(join(folder, "access.json"))).mode & 0o777).toBe(0o600);
    expect(openAccess(await openAccessShelf(folder)).sessions.use(token)?.name).toBe("Jo");
    const { writeFile } = await import("node:fs/promises");
    await writeFile(join(folder, "access.json"), text.slice(0, -9));
    expect(openAccess(await openAccessShelf(folder)).sessions.use(token)).toBeNull();
    expect(await readFile(join(folder, "access.json.damaged"), "utf8")).toContain("Jo");
  });

  test("each phone has a label of its own; a guest goes with its link", async () => {
    const { sessions, links } = openAccess(memory(), { clock: computer().clock });
    await sessions.begin(phone);
    expect((await sessions.begin(phone)).session.device).toBe("phone 2");
    const { link } = await links.make("tarnmill", 1, 14);
    const { token } = await sessions.begin({ ...phone, role: "guest", record: 1 }, link.id);
    expect(sessions.use(token)?.role).toBe("guest");
    await links.end("tarnmill", link.id);
    expect(sessions.use(token)).toBeNull();
  });
});
