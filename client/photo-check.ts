import { judgePicture, smallPicture } from "../analysis/intake/quality-gates.ts";

const canvasLongestPx = 1600;

/**
 * What to do about a photo before it leaves the phone: the advice of each gate it fails, most pressing first.
 * Empty when it is fine, or when this browser cannot open the file (the laptop will look at it).
 */
export const checkPhoto = async (file: Blob): Promise<readonly string[]> => {
  const picture = await createImageBitmap(file).catch(() => null);
  if (!picture) return [];
  const longest = Math.max(picture.width, picture.height);
  const scale = Math.min(1, canvasLongestPx / longest);
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  const paper = canvas.getContext("2d", { willReadFrequently: true });
  if (!paper) return [];
  paper.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  const { data, width, height } = paper.getImageData(0, 0, canvas.width, canvas.height);
  const small = smallPicture({ data, width, height, first: 0, right: 4, down: 4 * width });
  return judgePicture({ ...small, photoLongestSidePx: longest })
    .filter(({ passed }) => !passed)
    .map(({ advice }) => advice);
};

/** SHA-256 of a file as lower-case hex. Browsers do not hash on a page without https: there a script does, fetched when it is needed. */
export const hashPhoto = async (file: Blob): Promise<string> => {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const digest = globalThis.crypto?.subtle
    ? new Uint8Array(await crypto.subtle.digest("SHA-256", bytes))
    : (await import("@noble/hashes/sha2.js")).sha256(bytes);
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
};
