import { existsSync } from "node:fs";
import { join } from "node:path";
import express, { type Express } from "express";
import { Refusal } from "../problem.ts";

/** Serves the built screens; any other address that a browser opens is a screen of theirs. */
export const clientFiles = (app: Express, folder: string): void => {
  const start = join(folder, "index.html");
  app.use(
    express.static(folder, {
      index: false,
      maxAge: "1y",
      immutable: true,
      redirect: false,
      setHeaders: (response, path) => {
        if (!path.includes(`${join(folder, "assets")}`)) response.set("Cache-Control", "no-cache");
      },
    }),
  );
  app.get("/{*screen}", (request, response) => {
    if (request.path.startsWith("/api/") || !request.accepts("html"))
      throw new Refusal("There is nothing at this address.", 404);
    if (!existsSync(start)) throw new Refusal("The screens are not built yet: run `npm run build`.", 503);
    response.set("Cache-Control", "no-cache").sendFile(start, { dotfiles: "allow" });
  });
};
