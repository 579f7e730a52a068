import { paths } from "../../server/contract/paths.ts";
import { type Answer, aboutDetail, addressOf, type BuiltServer } from "../support/built-server.ts";

/** Sends a photo in two parts, as a phone does (tus 1.0), and then what it shows. */
export const sendInParts = async (server: BuiltServer, delivery: string, bytes: Buffer): Promise<Answer> => {
  const about = aboutDetail(bytes);
  const address = `${server.address}${addressOf(paths.uploadPart[1], { delivery, photo: about.sha256 })}`;
  const tus = async (method: string, headers: Record<string, string>, body?: Buffer): Promise<number> => {
    const answer = await fetch(address, {
      method,
      headers: { ...server.headers, "tus-resumable": "1.0.0", ...headers },
      ...(body && { body: new Uint8Array(body) }),
    });
    await answer.arrayBuffer();
    return answer.status;
  };
  const part = (from: number, to: number): Promise<number> => {
    const headers = { "content-type": "application/offset+octet-stream", "upload-offset": String(from) };
    return tus("PATCH", headers, bytes.subarray(from, to));
  };
  const half = bytes.length >> 1;
  const begun = await tus("POST", { "upload-length": String(bytes.length) });
  if (begun !== 201) return { status: begun, body: null };
  for (const [from, to] of [
    [0, half],
    [half, bytes.length],
  ] as const) {
    const arrived = await part(from, to);
    if (arrived !== 204) return { status: arrived, body: null };
  }
  return server.call("uploadPhoto", { delivery }, about);
};
