import { randomInt } from "node:crypto";
import { ulid } from "ulid";
import type { OfferWish } from "../contract/access.ts";
import { type ComputerClock, sinceMs } from "./computer-clock.ts";
import { hashOf, newSecret } from "./secret.ts";

/** An offer lasts so long; after so many wrong tries its code is void; and no more wrong tries than that a minute in all. */
export const pairingLimits = { lastsMs: 600_000, wrongPerCode: 5, wrongPerMinute: 20 } as const;

const letters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/** Eight characters that are not taken for others: 40 bits. */
const newCode = (): string => Array.from({ length: 8 }, () => letters[randomInt(letters.length)]).join("");

/** What is kept of an offer: hashes of its secrets, and when it was made by both clocks. */
export interface MadeOffer extends OfferWish {
  readonly id: string;
  readonly codeHash: string;
  readonly tokenHash: string;
  readonly made: { readonly wallMs: number; readonly uptimeMs: number };
}

/** An offer and the two secrets that open it, which are nowhere kept. */
export const makeOffer = (wish: OfferWish, clock: ComputerClock): { offer: MadeOffer; code: string; token: string } => {
  const [code, token] = [newCode(), newSecret(128)];
  const made = { wallMs: clock.wallMs(), uptimeMs: clock.uptimeMs() };
  return { offer: { ...wish, id: ulid(), codeHash: hashOf(code), tokenHash: hashOf(token), made }, code, token };
};

/** An offer that can still be taken. */
export interface OpenOffer extends OfferWish {
  readonly id: string;
  readonly secondsLeft: number;
  readonly codeVoid: boolean;
}

/** Offers to be let in, in memory: a restart ends them. One made before this computer was switched on is not added. */
export interface Pairing {
  add(offer: MadeOffer): void;
  list(): readonly OpenOffer[];
  /** Takes the offer that a code or token opens, once. `wait`: too many wrong tries of late. */
  take(
    secret: string,
  ): { readonly kind: "taken"; readonly wish: OfferWish } | { readonly kind: "wrong" } | { readonly kind: "wait" };
}

/** A wrong try counts against every open code, since nobody knows which it was meant for. */
export const openPairing = (clock: ComputerClock): Pairing => {
  const offers = new Map<string, { readonly offer: MadeOffer; wrong: number }>();
  let wrongAt: number[] = [];
  const ageOf = ({ made }: MadeOffer): number => clock.uptimeMs() - made.uptimeMs;
  const live = () => {
    for (const [id, { offer }] of offers) if (ageOf(offer) >= pairingLimits.lastsMs) offers.delete(id);
    return [...offers.values()];
  };
  const isVoid = (wrong: number): boolean => wrong >= pairingLimits.wrongPerCode;
  return {
    add: (offer) => {
      const fresh = ageOf(offer) >= 0 && sinceMs(offer.made, clock) < pairingLimits.lastsMs;
      if (fresh) offers.set(offer.id, { offer, wrong: 0 });
    },
    list: () =>
      live().map(({ offer, wrong }) => ({
        id: offer.id,
        role: offer.role,
        delivery: offer.delivery,
        device: offer.device,
        secondsLeft: Math.ceil((pairingLimits.lastsMs - ageOf(offer)) / 1000),
        codeVoid: isVoid(wrong),
      })),
    take: (secret) => {
      const now = clock.uptimeMs();
      wrongAt = wrongAt.filter((at) => now - at < 60_000);
      if (wrongAt.length >= pairingLimits.wrongPerMinute) return { kind: "wait" };
      const hash = hashOf(secret);
      const open = live();
      const found = open.find(
        ({ offer, wrong }) => offer.tokenHash === hash || (offer.codeHash === hash && !isVoid(wrong)),
      );
      if (!found) {
        wrongAt.push(now);
        for (const one of open) one.wrong++;
        return { kind: "wrong" };
      }
      offers.delete(found.offer.id);
      const { role, delivery, device } = found.offer;
      return { kind: "taken", wish: { role, delivery, device } };
    },
  };
};
