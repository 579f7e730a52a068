import { useEffect, useState } from "preact/hooks";

/** A picture of a face that the laptop cuts from a photo: it takes a moment, and may be refused with a reason. */
export type StraightPicture =
  | { readonly kind: "none" | "loading" }
  | { readonly kind: "ready"; readonly url: string }
  | { readonly kind: "failed"; readonly says: string };

const failed = (says: string): StraightPicture => ({ kind: "failed", says });

const read = async (path: string): Promise<StraightPicture> => {
  try {
    const response = await fetch(path);
    if (response.ok) return { kind: "ready", url: URL.createObjectURL(await response.blob()) };
    const problem = (await response.json()) as { detail?: string };
    return failed(problem.detail ?? `The laptop answered ${response.status}: choose another photo.`);
  } catch {
    return failed("The laptop cannot be reached. The lines can be moved all the same.");
  }
};

/** Fetches the picture once for as long as it is shown; null for no picture. */
export const useStraightPicture = (path: string | null): StraightPicture => {
  const [picture, show] = useState<StraightPicture>({ kind: "none" });
  useEffect(() => {
    if (path === null) return show({ kind: "none" });
    let wanted = true;
    let url: string | null = null;
    show({ kind: "loading" });
    void read(path).then((one) => {
      if (one.kind === "ready") url = one.url;
      if (wanted) show(one);
      else if (url) URL.revokeObjectURL(url);
    });
    return () => {
      wanted = false;
      if (url) URL.revokeObjectURL(url);
    };
  }, [path]);
  return picture;
};
