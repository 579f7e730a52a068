import { describe, expect, test } from "vitest";
import { type KeptPhoto, openUploadQueue, type PhotoShelf, type Sent } from "../../client/upload-queue.ts";

const photo = (digit: string, keptAt = `2026-03-03T11:0${digit}:00Z`): KeptPhoto => ({
  id: `brannoch ${digit.repeat(64)}`,
  delivery: "brannoch",
  about: {
    sha256: digit.repeat(64),
    name: `${digit}.jpg`,
    kind: "single",
    shows: [],
    note: "",
  },
  file: new Blob([digit]),
  keptAt,
  state: { kind: "kept" },
});

/** A shelf that outlives the queue, as the phone's disk outlives the page. */
const memoryShelf = () => {
  const held = new Map<string, KeptPhoto>();
  const shelf: PhotoShelf = {
    all: async () => [...held.values()],
    put: async (one) => {
      held.set(one.id, one);
    },
    remove: async (id) => {
      held.delete(id);
    },
  };
  return { shelf, held };
};

const received = (one: KeptPhoto): Sent => ({ kind: "received", sha256: one.about.sha256 });

describe("photos wait on the phone", () => {
  test("a photo is on the shelf before anything is sent", async () => {
    const { shelf, held } = memoryShelf();
    const shelfWhenSent: number[] = [];
    const send = async (one: KeptPhoto) => {
      shelfWhenSent.push(held.size);
      return received(one);
    };
    const queue = await openUploadQueue(shelf, send, () => {});
    await queue.keep(photo("1"));
    await queue.sendWaiting();
    expect(shelfWhenSent).toEqual([1]);
  });

  test("with no signal all are kept, and sent in the order they were taken once it is back", async () => {
    const { shelf, held } = memoryShelf();
    let signal = false;
    const sent: string[] = [];
    let arrived = 0;
    const send = async (one: KeptPhoto): Promise<Sent> => {
      if (!signal) return { kind: "unreachable" };
      sent.push(one.about.name);
      return received(one);
    };
    const queue = await openUploadQueue(shelf, send, () => {
      arrived += 1;
    });
    await queue.keep(photo("2"));
    await queue.keep(photo("1"));
    await queue.keep(photo("3"));
    await queue.sendWaiting();
    expect(queue.photos.value.map(({ state }) => state.kind)).toEqual(["kept", "kept", "kept"]);
    expect(held.size).toBe(3);
    signal = true;
    await queue.sendWaiting();
    expect(sent).toEqual(["1.jpg", "2.jpg", "3.jpg"]);
    expect(arrived).toBe(3);
    expect(held.size).toBe(0);
    expect(queue.photos.value).toEqual([]);
  });

  test("the copy here stays when the laptop holds other bytes", async () => {
    const { shelf, held } = memoryShelf();
    const queue = await openUploadQueue(
      shelf,
      async () => ({ kind: "received", sha256: "f".repeat(64) }),
      () => {},
    );
    await queue.keep(photo("1"));
    await queue.sendWaiting();
    expect(held.size).toBe(1);
    expect(queue.photos.value[0]?.state.kind).toBe("refused");
  });

  test("a refused photo does not hold up those behind it; it can be sent again or thrown away", async () => {
    const { shelf, held } = memoryShelf();
    const bad = photo("1");
    let refuse = true;
    const send = async (one: KeptPhoto): Promise<Sent> =>
      refuse && one.id === bad.id ? { kind: "refused", says: "Set the camera to JPEG." } : received(one);
    const queue = await openUploadQueue(shelf, send, () => {});
    await queue.keep(bad);
    await queue.keep(photo("2"));
    await queue.sendWaiting();
    expect(queue.photos.value.map(({ id, state }) => [id, state])).toEqual([
      [bad.id, { kind: "refused", says: "Set the camera to JPEG." }],
    ]);
    refuse = false;
    await queue.retry(bad.id);
    await queue.sendWaiting();
    expect(held.size).toBe(0);
    await queue.keep(photo("3"));
    await queue.drop(photo("3").id);
    expect(held.has(photo("3").id)).toBe(false);
  });

  test("a photo that was being sent when the page closed waits again", async () => {
    const { shelf } = memoryShelf();
    await shelf.put({ ...photo("1"), state: { kind: "sending" } });
    await shelf.put({ ...photo("2"), state: { kind: "refused", says: "no" } });
    const queue = await openUploadQueue(
      shelf,
      async () => ({ kind: "unreachable" }),
      () => {},
    );
    expect(queue.photos.value.map(({ state }) => state.kind)).toEqual(["kept", "refused"]);
  });

  test("only one photo is under way at a time, however often it is told to send", async () => {
    const { shelf } = memoryShelf();
    let underWay = 0;
    let most = 0;
    const send = async (one: KeptPhoto) => {
      underWay += 1;
      most = Math.max(most, underWay);
      await new Promise((resolve) => setTimeout(resolve, 1));
      underWay -= 1;
      return received(one);
    };
    const queue = await openUploadQueue(shelf, send, () => {});
    await Promise.all(["1", "2", "3"].map((digit) => queue.keep(photo(digit))));
    await Promise.all([queue.sendWaiting(), queue.sendWaiting(), queue.sendWaiting()]);
    expect(most).toBe(1);
    expect(queue.photos.value).toEqual([]);
  });
});
