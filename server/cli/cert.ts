import { X509Certificate } from "node:crypto";
import { certificateFor, ownNames } from "../access/certificate.ts";
import { readConfig } from "../config.ts";
import { say } from "./say.ts";

export interface CertOptions {
  readonly json: boolean;
  readonly data?: string;
}

/** Makes the certificate of this computer, or renews it, and says what it gives and what it does not. */
export const cert = async (options: CertOptions): Promise<void> => {
  const { dataFolder, names } = readConfig({
    ...process.env,
    ...(options.data === undefined ? {} : { LEAFLEDGER_DATA: options.data }),
  });
  const all = ownNames(names);
  const { cert: server, authority } = await certificateFor(dataFolder, all, new Date());
  const { validTo } = new X509Certificate(server);
  const { fingerprint256 } = new X509Certificate(authority);
  say(options.json, { names: all, validTo, authority: fingerprint256 }, () =>
    [
      `The certificate holds for ${all.join(", ")} until ${validTo}.`,
      `Fingerprint of its authority (compare it on the phone): ${fingerprint256}`,
      "It gives: what phones and this laptop say to each other cannot be read or changed on the way, and photos are kept without signal.",
      "It does not: a phone warns until it trusts the authority, and whoever copies the folder `certificate` could pose as this laptop.",
      "To begin: leafledger serve --host 0.0.0.0 --cert, then open http://<this laptop>:<port + 1>/help on each phone.",
    ].join("\n"),
  );
};
