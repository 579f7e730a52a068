import type { Readable } from "node:stream";
import yazl from "yazl";

/**
 * Files and a manifest of them as one zip, read while it is sent. Photos and PDFs hardly shrink: nothing is compressed. `date`
 * (ISO 8601) is given to every file, so that the same record gives the same bytes.
 */
export const recordZip = (
  files: readonly { readonly name: string; readonly path: string }[],
  manifest: string,
  date: string,
): Readable => {
  const zip = new yazl.ZipFile();
  const options = { mtime: new Date(date), mode: 0o100444, compress: false };
  for (const { name, path } of files) zip.addFile(path, name, options);
  zip.addBuffer(Buffer.from(manifest), "manifest-sha256.txt", options);
  zip.end();
  const out = zip.outputStream as Readable;
  zip.on("error", (error) => out.destroy(error as Error));
  return out;
};
