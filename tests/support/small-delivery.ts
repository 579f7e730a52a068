import type { Body } from "../../server/contract/calls.ts";
import type { SupplierTerms } from "../../server/contract/terms.ts";

export const by = { name: "R. Tester", device: "laptop" };

/** Terms of an invented supplier. */
export const someTerms: SupplierTerms = {
  windows: [
    { kind: "shortage", to: "supplier", amount: 24, unit: "hours", from: "delivery" },
    { kind: "damage", to: "supplier", amount: 3, unit: "working-days", from: "delivery" },
    { kind: "haulier-claim", to: "haulier", amount: 14, unit: "calendar-days", from: "delivery" },
  ],
  holidays: "GB-ENG",
  closedDays: [],
  dayEndsAt: "17:00",
  store: {
    humidityMinPercent: 40,
    humidityMaxPercent: 60,
    temperatureMinC: 10,
    temperatureMaxC: 32,
    swingPercentPerDay: 10,
    longestGapHours: 24,
  },
  shape: { bowMm: 6, twistMm: 6, cupMm: 3, uncertaintyMm: 0.5 },
  marks: [{ kind: "dent", longestMm: 5, deepestMm: 0.2, contrastDE00: null }],
  toleranceDE00: 2,
  confidence: 0.95,
  viewing: { distanceM: 1.5, light: "daylight" },
  beforeUnwrapping: null,
};

export const orderCsv = `line,item,code,price,quantity,width_mm,height_mm,thickness_mm,pattern,veneer,fire_rating,leaves_per_unit
L1,oak 826,OK-826,300,4,826,2040,44,flush,oak crown,FD30,1
L2,oak pair,OK-P,250.50,2,726,2040,44,flush,oak crown,FD30,2
`;

export const scheduleCsv = `opening,leaves,width_mm,height_mm,thickness_mm,pattern,veneer,fire_rating,side_a_space,side_b_space,hinge,note
1.01,1,826,2040,44,flush,oak crown,FD30,Corridor,Office 1,"left from A, opens to B",
1.02,1,826,2040,44,flush,oak crown,FD30,Corridor,Office 2,"right from A, opens to B",
1.03,1,826,2040,44,flush,oak crown,FD30,Corridor,Store,,
1.04,2,726,2040,44,flush,oak crown,FD30,Corridor,Hall,,double
`;

/** What begins a small invented delivery. */
export const smallDelivery: Body<"createDelivery"> = {
  job: {
    name: "Tarn Mill",
    site: "Tarn Mill, ground floor",
    fitter: "Harrowmere Joinery",
    supplier: "Pellingford Leaf Co.",
    haulier: "Scarrowdale Freight",
    orderNumber: "HJ-1",
    noteNumber: "PL-1",
    deliveredAt: "2026-03-03T10:40:00+00:00",
    timeZone: "Europe/London",
    currency: "GBP",
  },
  terms: someTerms,
  order: orderCsv,
  schedule: scheduleCsv,
};
