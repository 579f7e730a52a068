import type { Express } from "express";
import type { Site } from "../site.ts";
import { addChart } from "../use-cases/add-chart.ts";
import { chooseChart } from "../use-cases/choose-chart.ts";
import { countLine } from "../use-cases/count-line.ts";
import { createDelivery } from "../use-cases/create-delivery.ts";
import { importOrder } from "../use-cases/import-order.ts";
import { importSchedule } from "../use-cases/import-schedule.ts";
import { listDeliveries } from "../use-cases/list-deliveries.ts";
import { logReading } from "../use-cases/log-reading.ts";
import { setTerms } from "../use-cases/set-terms.ts";
import { undoChange } from "../use-cases/undo-change.ts";
import { verifyDelivery } from "../use-cases/verify-delivery.ts";
import { viewCharts } from "../use-cases/view-charts.ts";
import { viewHistory } from "../use-cases/view-history.ts";
import { viewOverview } from "../use-cases/view-overview.ts";
import { bind } from "./bind.ts";

/** The delivery as a whole: order, schedule, count, terms, charts, store log, history. */
export const deliveries = (app: Express, site: Site): void => {
  bind(app, "listDeliveries", () => listDeliveries(site));
  bind(app, "createDelivery", (_params, body) => createDelivery(site, body));
  bind(app, "overview", ({ delivery }) => viewOverview(site, delivery));
  bind(app, "document", ({ delivery }) => site.store.open(delivery).read());
  bind(app, "history", ({ delivery }) => viewHistory(site, delivery));
  bind(app, "undo", ({ delivery }, body) => undoChange(site, delivery, body));
  bind(app, "setTerms", ({ delivery }, body) => setTerms(site, delivery, body));
  bind(app, "charts", ({ delivery }) => viewCharts(site, delivery));
  bind(app, "addChart", ({ delivery }, body) => addChart(site, delivery, body));
  bind(app, "chooseChart", ({ delivery }, body) => chooseChart(site, delivery, body));
  bind(app, "importOrder", ({ delivery }, body) => importOrder(site, delivery, body));
  bind(app, "importSchedule", ({ delivery }, body) => importSchedule(site, delivery, body));
  bind(app, "countLine", ({ delivery, line }, body) => countLine(site, delivery, line, body));
  bind(app, "logReading", ({ delivery }, body) => logReading(site, delivery, body));
  bind(app, "verify", ({ delivery }) => verifyDelivery(site, delivery));
};
