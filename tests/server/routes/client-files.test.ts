import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import request from "supertest";
import { expect, onTestFinished, test } from "vitest";
import { apiOf } from "../../support/http.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { testSite } from "../../support/test-site.ts";

test("any address a browser opens is a screen; files are served with their type; the API keeps its own 404", async () => {
  const site = await testSite();
  onTestFinished(() => site.remove());
  const clientFolder = await temporaryFolder();
  const { app, headers: session } = apiOf(site, { clientFolder });
  expect((await request(app).get("/").set("Accept", "text/html")).body.detail).toMatch(/not built yet/);
  await mkdir(join(clientFolder, "assets"));
  await writeFile(join(clientFolder, "index.html"), "<p>screens</p>");
  await writeFile(join(clientFolder, "assets", "main-1a2b.js"), "1");
  for (const path of ["/", "/d/tarnmill/match", "/L/W03"]) {
    const { text, headers } = await request(app).get(path).set("Accept", "text/html").expect(200);
    expect(text).toBe("<p>screens</p>");
    expect(headers["cache-control"]).toBe("no-cache");
  }
  const script = await request(app).get("/assets/main-1a2b.js").expect(200);
  expect(script.headers["content-type"]).toMatch(/javascript/);
  expect(script.headers["cache-control"]).toMatch(/immutable/);
  await request(app).get("/api/v1/nosuch").set(session).set("Accept", "text/html").expect(404);
  await request(app).get("/assets/../../package.json").set("Accept", "application/json").expect(404);
});
