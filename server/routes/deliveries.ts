import type { Express } from "express";
import type { Site } from "../site.ts";
import { addChart } from "../use-cases/add-chart.ts";
import { addLeavesOfLine } from "../use-cases/add-leaves-of-line.ts";
import { chooseChart } from "../use-cases/choose-chart.ts";
import { countLine } from "../use-cases/count-line.ts";
import { createDelivery } from "../use-cases/create-delivery.ts";
import { importOrder } from "../use-cases/import-order.ts";
import { importSchedule } from "../use-cases/import-schedule.ts";
import { listDeliveries } from "../use-cases/list-deliveries.ts";
import { logReading } from "../use-cases/log-reading.ts";
import { setTerms } from "../use-cases/set-terms.ts";
import { settleConflict } from "../use-cases/settle-conflict.ts";
import { undoChange } from "../use-cases/undo-change.ts";
import { verifyDelivery } from "../use-cases/verify-delivery.ts";
import { viewCharts } from "../use-cases/view-charts.ts";
import { viewHistory } from "../use-cases/view-history.ts";
import { viewOverview } from "../use-cases/view-overview.ts";
import { bind, route, sendReply } from "./bind.ts";
import { sessionOf } from "./who-may-call.ts";

/** The delivery as a whole: order, schedule, count, terms, charts, store log, history. */
export const deliveries = (app: Express, site: Site): void => {
  route(app, "listDeliveries", (_request, response) => {
    const { delivery } = sessionOf(response);
    const all = listDeliveries(site);
    sendReply(response, "listDeliveries", delivery === null ? all : all.filter(({ id }) => id === delivery));
  });
  bind(app, "createDelivery", (_params, body, by) => createDelivery(site, { ...body, by }));
  bind(app, "overview", ({ delivery }) => viewOverview(site, delivery));
  bind(app, "document", ({ delivery }) => site.store.open(delivery).read());
  bind(app, "history", ({ delivery }, _body, by) => viewHistory(site, delivery, by));
  bind(app, "settleConflict", ({ delivery, conflict }, body, by) =>
    settleConflict(site, delivery, conflict, { ...body, by }),
  );
  bind(app, "undo", ({ delivery }, body, by) => undoChange(site, delivery, { ...body, by }));
  bind(app, "setTerms", ({ delivery }, body, by) => setTerms(site, delivery, { ...body, by }));
  bind(app, "charts", ({ delivery }) => viewCharts(site, delivery));
  bind(app, "addChart", ({ delivery }, body, by) => addChart(site, delivery, { ...body, by }));
  bind(app, "chooseChart", ({ delivery }, body, by) => chooseChart(site, delivery, { ...body, by }));
  bind(app, "importOrder", ({ delivery }, body, by) => importOrder(site, delivery, { ...body, by }));
  bind(app, "importSchedule", ({ delivery }, body, by) => importSchedule(site, delivery, { ...body, by }));
  bind(app, "countLine", ({ delivery, line }, body, by) => countLine(site, delivery, line, { ...body, by }));
  bind(app, "addLeavesOfLine", ({ delivery, line }, body, by) =>
    addLeavesOfLine(site, delivery, line, { ...body, by }),
  );
  bind(app, "logReading", ({ delivery }, body, by) => logReading(site, delivery, { ...body, by }));
  bind(app, "verify", ({ delivery }) => verifyDelivery(site, delivery));
};
