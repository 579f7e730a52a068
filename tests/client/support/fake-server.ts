import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import { extname, join } from "node:path";
import { document, leafView, matchView, overview, returnsView, windows } from "./brannoch-quay.ts";

/** Answers the built screens from the invented delivery, for looking at them before anything is measured. */
const answers = (path: string): unknown => {
  if (path === "/deliveries")
    return [
      {
        id: "brannoch",
        name: overview.job.name,
        supplier: overview.job.supplier,
        deliveredAt: overview.job.deliveredAt,
        leaves: 20,
      },
    ];
  const [, rest = ""] = path.split("/brannoch");
  if (rest === "") return overview;
  if (rest === "/document") return document;
  if (rest === "/match" || rest === "/allotment/plan") return matchView;
  if (rest === "/records") return returnsView;
  if (rest === "/history")
    return [{ seq: 1, at: windows[0]?.opensAt, actor: "Jo", device: "phone", what: "L4: 2 counted", undoable: true }];
  const leaf = /^\/leaves\/([A-Z0-9]+)$/.exec(rest)?.[1];
  return leaf ? leafView(leaf) : { seq: 2 };
};

const picture = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1512 2016"><rect width="1512" height="2016" fill="#b9b4ab"/><path d="M420 160l700 15l-10 1585l-700-20z" fill="#79624a"/></svg>`;
const types: Readonly<Record<string, string>> = {
  ".js": "text/javascript",
  ".css": "text/css",
  ".svg": "image/svg+xml",
  ".html": "text/html",
};

createServer(async (request, response) => {
  const { pathname } = new URL(request.url ?? "/", "http://localhost");
  if (pathname.endsWith("/events"))
    return response.writeHead(200, { "content-type": "text/event-stream" }).write(":\n\n");
  if (pathname.endsWith("/preview")) return response.writeHead(200, { "content-type": "image/svg+xml" }).end(picture);
  if (pathname.startsWith("/api/v1"))
    return response
      .writeHead(200, { "content-type": "application/json" })
      .end(JSON.stringify(answers(pathname.slice(7))));
  const file = extname(pathname) ? pathname : "/index.html";
  const text = await readFile(join("dist/client", file)).catch(() => null);
  return response
    .writeHead(text ? 200 : 404, {
      "content-type": types[extname(file)] ?? "text/plain",
      "content-security-policy": "default-src 'self'",
    })
    .end(text);
}).listen(Number(process.argv[2] ?? 4190));
