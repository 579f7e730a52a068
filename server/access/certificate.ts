import { X509Certificate } from "node:crypto";
import { chmod, mkdir, readFile } from "node:fs/promises";
import { isIP } from "node:net";
import { hostname, networkInterfaces } from "node:os";
import { join } from "node:path";
import { generate } from "selfsigned";
import { hasCode, writeDurably } from "../store/disk.ts";

const day = 86_400_000;
/** Days that certificates hold: our own authority's ten years, a server's no longer than phones accept. */
const holds = { authority: 3650, server: 397, renewBefore: 30 } as const;

/** PEM texts: what the server shows and its key, and the authority's certificate for phones to trust. */
export interface Certificate {
  readonly cert: string;
  readonly key: string;
  readonly authority: string;
}

const kind = { keyType: "ec", curve: "P-256", algorithm: "sha256" } as const;

/** Names and addresses by which devices near by reach this computer, the plainest first. */
export const ownNames = (further: readonly string[] = []): string[] => {
  const addresses = Object.values(networkInterfaces())
    .flatMap((all) => all ?? [])
    .filter(({ internal, family }) => !internal && family === "IPv4")
    .map(({ address }) => address);
  const local = hostname().toLowerCase().split(".")[0] ?? "";
  return [...new Set([...further, ...(local ? [`${local}.local`] : []), ...addresses])];
};

const readText = async (path: string): Promise<string | null> => {
  try {
    return await readFile(path, "utf8");
  } catch (error) {
    if (hasCode(error, "ENOENT")) return null;
    throw error;
  }
};

const makeAuthority = (now: Date) =>
  generate([{ name: "commonName", value: `Leafledger on ${hostname()}` }], {
    ...kind,
    notBeforeDate: new Date(now.getTime() - day),
    notAfterDate: new Date(now.getTime() + holds.authority * day),
    extensions: [
      { name: "basicConstraints", cA: true, pathLenConstraint: 0, critical: true },
      { name: "keyUsage", keyCertSign: true, cRLSign: true, critical: true },
    ],
  });

const makeServer = (names: readonly string[], ca: { key: string; cert: string }, now: Date) =>
  generate([{ name: "commonName", value: names[0] ?? "localhost" }], {
    ...kind,
    ca,
    notBeforeDate: new Date(now.getTime() - day),
    notAfterDate: new Date(now.getTime() + (holds.server - 1) * day),
    extensions: [
      { name: "basicConstraints", cA: false, critical: true },
      { name: "keyUsage", digitalSignature: true, critical: true },
      { name: "extKeyUsage", serverAuth: true },
      {
        name: "subjectAltName",
        altNames: [...names, "localhost", "127.0.0.1"].map((name) =>
          isIP(name) ? { type: 7, ip: name } : { type: 2, value: name },
        ),
      },
    ],
  });

/** Whether a server's certificate still holds for a month, under all these names, and comes from this authority. */
const stillGood = (cert: string, authority: string, names: readonly string[], now: Date): boolean => {
  const server = new X509Certificate(cert);
  const lasts = Date.parse(server.validTo) - now.getTime() > holds.renewBefore * day;
  const knows = (name: string): boolean => (isIP(name) ? server.checkIP(name) : server.checkHost(name)) !== undefined;
  return lasts && names.every(knows) && server.verify(new X509Certificate(authority).publicKey);
};

/**
 * The certificate of this computer, from an authority of its own that is made once. It is issued anew when a name or an address is new to
 * it or it soon ends; phones that trust the authority notice nothing. Keys are readable to their owner alone.
 */
export const certificateFor = async (dataFolder: string, names: readonly string[], now: Date): Promise<Certificate> => {
  const folder = join(dataFolder, "certificate");
  await mkdir(folder, { recursive: true, mode: 0o700 });
  await chmod(folder, 0o700);
  const [authorityPath, authorityKeyPath] = [join(folder, "authority.pem"), join(folder, "authority-key.pem")];
  const [certPath, keyPath] = [join(folder, "server.pem"), join(folder, "server-key.pem")];
  let [authority, authorityKey] = [await readText(authorityPath), await readText(authorityKeyPath)];
  if (authority === null || authorityKey === null) {
    const made = await makeAuthority(now);
    [authority, authorityKey] = [made.cert, made.private];
    await writeDurably(authorityKeyPath, authorityKey, 0o600);
    await writeDurably(authorityPath, authority, 0o600);
  }
  const [cert, key] = [await readText(certPath), await readText(keyPath)];
  if (cert !== null && key !== null && stillGood(cert, authority, names, now)) return { cert, key, authority };
  const made = await makeServer(names, { key: authorityKey, cert: authority }, now);
  await writeDurably(keyPath, made.private, 0o600);
  await writeDurably(certPath, made.cert, 0o600);
  return { cert: made.cert, key: made.private, authority };
};
