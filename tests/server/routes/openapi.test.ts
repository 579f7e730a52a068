import request from "supertest";
import { expect, onTestFinished, test } from "vitest";
import { paths } from "../../../server/contract/paths.ts";
import { apiOf } from "../../support/http.ts";
import { testSite } from "../../support/test-site.ts";

interface Operation {
  readonly operationId: string;
  readonly parameters: readonly { readonly name: string }[];
  readonly requestBody?: { readonly content: Record<string, unknown> };
}

test("every call stands in the description, with its parameters and its body", async () => {
  const site = await testSite();
  onTestFinished(() => site.remove());
  const { body } = await request(apiOf(site).app).get("/openapi.json").expect(200);
  expect(body.openapi).toBe("3.1.0");
  const operations = Object.values(body.paths as Record<string, Record<string, Operation>>).flatMap((one) =>
    Object.values(one),
  );
  expect(operations.map(({ operationId }) => operationId).sort()).toEqual(Object.keys(paths).sort());
  const of = (id: string) => operations.find(({ operationId }) => operationId === id);
  expect(of("countLine")?.parameters.map(({ name }) => name)).toEqual(["delivery", "line"]);
  expect(Object.keys(of("uploadPhoto")?.requestBody?.content ?? {})).toContain("multipart/form-data");
  expect(of("overview")?.requestBody).toBeUndefined();
  const count =
    body.paths["/api/v1/deliveries/{delivery}/lines/{line}/count"].put.requestBody.content["application/json"].schema;
  expect(count).toMatchObject({ type: "object", additionalProperties: false, required: ["counted"] });
});

test("every call of the table is served: none answers that there is no such call", async () => {
  const site = await testSite();
  onTestFinished(() => site.remove());
  const { app, headers } = apiOf(site);
  const methods = { GET: "get", POST: "post", PUT: "put", HEAD: "head", PATCH: "patch" } as const;
  for (const [method, path] of Object.values(paths)) {
    if (path === paths.signOut[1]) continue; // it ends the session that all others need
    const { body } = await request(app)[methods[method]](path.replace(/:\w+/g, "nosuch")).set(headers);
    expect(body.detail ?? "", `${method} ${path}`).not.toBe("There is no such call.");
  }
  expect((await request(app).delete("/api/v1/deliveries").set(headers)).status).toBe(404);
});
