import { expect, test } from "vitest";
import { deliveryDocument } from "../../../server/contract/delivery.ts";
import { leafView, matchView, overview, returnsView } from "../../../server/contract/views.ts";
import * as brannoch from "./brannoch-quay.ts";

test("the invented delivery is one that the contract would let through", () => {
  expect(overview.parse(brannoch.overview)).toEqual(brannoch.overview);
  expect(matchView.parse(brannoch.matchView)).toEqual(brannoch.matchView);
  expect(returnsView.parse(brannoch.returnsView)).toEqual(brannoch.returnsView);
  expect(deliveryDocument.parse(brannoch.document)).toEqual(brannoch.document);
  for (const { code } of brannoch.overview.leaves) leafView.parse(brannoch.leafView(code));
});
