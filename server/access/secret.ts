import { createHash, randomBytes } from "node:crypto";

/** 256 bits by default, in letters that an address and a cookie take as they are. */
export const newSecret = (bits = 256): string => randomBytes(bits / 8).toString("base64url");

/** What is kept of a secret: whoever reads it cannot tell the secret. */
export const hashOf = (secret: string): string => createHash("sha256").update(secret).digest("hex");
