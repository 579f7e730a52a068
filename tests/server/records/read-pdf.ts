import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";

/** A node of a page's structure tree as the reader gives it. */
interface Node {
  readonly role?: string;
  readonly alt?: string;
  readonly children?: readonly Node[];
}

/** What a reader finds in a PDF: the text of each page, the roles and the words for figures of each page's tree. */
export interface ReadPdf {
  readonly pages: readonly string[];
  readonly roles: readonly string[];
  readonly alts: readonly string[];
  readonly tagged: boolean;
  readonly info: Record<string, unknown>;
}

const walk = (node: Node, visit: (node: Node) => void): void => {
  visit(node);
  for (const child of node.children ?? []) walk(child, visit);
};

export const readPdf = async (bytes: Buffer): Promise<ReadPdf> => {
  const document = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
  const pages: string[] = [];
  const roles: string[] = [];
  const alts: string[] = [];
  for (let number = 1; number <= document.numPages; number += 1) {
    const page = await document.getPage(number);
    const { items } = await page.getTextContent();
    pages.push(
      items
        .map((item) => ("str" in item ? item.str : ""))
        .join(" ")
        .replaceAll(/\s+/g, " "),
    );
    const tree = (await page.getStructTree()) as Node | null;
    if (tree)
      walk(tree, ({ role, alt }) => {
        if (role) roles.push(role);
        if (alt) alts.push(alt);
      });
  }
  const { info } = await document.getMetadata();
  const marks = await document.getMarkInfo();
  await document.loadingTask.destroy();
  return { pages, roles, alts, tagged: marks?.Marked === true, info: info as Record<string, unknown> };
};
