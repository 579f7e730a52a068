import { createServer, type Server } from "node:http";
import { patience } from "./connections.ts";

const helpPage = (address: string): string => `<!doctype html>
<html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>Let this phone trust Leafledger</title>
<h1>Let this phone trust Leafledger</h1>
<p>The laptop made a certificate of its own. A phone that trusts it talks to the laptop encrypted, keeps photos when the signal is
gone, and warns you no more.</p>
<p><b>What trusting means:</b> whoever holds the laptop's key could pretend to be any web site to this phone. Trust it on phones of
the job only, and take it off when the job is done.</p>
<p><a href="/authority.crt">1. Load the certificate</a></p>
<p>2. iPhone: Settings, General, VPN and Device Management, install it; then General, About, Certificate Trust Settings, switch it on.
Android: Settings, Security, Encryption and credentials, Install a certificate, CA certificate.</p>
<p><a href="${address}">3. Open Leafledger</a></p>
<p>To take it off: the same places, remove "Leafledger on ...".</p>
</html>
`;

/**
 * What answers without encryption beside the encrypted server: pages are sent on to it, calls are refused so that nothing secret is
 * sent twice, and the authority's certificate is handed out with a page that says what it means.
 */
export const plainHttp = (authority: string, names: readonly string[], securePort: () => number): Server =>
  createServer(patience, (request, response) => {
    const asked = (request.headers.host ?? "").replace(/:\d+$/, "").toLowerCase();
    const address = `https://${names.includes(asked) ? asked : names[0]}:${securePort()}`;
    const path = request.url ?? "/";
    const headers = { "X-Content-Type-Options": "nosniff", "Cache-Control": "no-store", Connection: "close" };
    const answer = (status: number, type: string, body: string, more: Record<string, string> = {}): void => {
      response.writeHead(status, { ...headers, "Content-Type": type, ...more }).end(body);
    };
    if (!names.includes(asked))
      answer(421, "text/plain; charset=utf-8", "This server does not answer under that name.\n");
    else if (path === "/authority.crt") answer(200, "application/x-x509-ca-cert", authority);
    else if (path === "/help")
      answer(200, "text/html; charset=utf-8", helpPage(address), { "Content-Security-Policy": "default-src 'none'" });
    else if (path.startsWith("/api") || (request.method !== "GET" && request.method !== "HEAD"))
      answer(403, "text/plain; charset=utf-8", "Calls are answered over https only.\n");
    else
      answer(307, "text/plain; charset=utf-8", "Open the https address.\n", {
        Location: `${address}${path.startsWith("//") ? "/" : path}`,
      });
  });
