// Where the page begins.

import "./style.css";
import { App } from "./app";
import { found } from "./elements";
import { carried, meshes } from "./loading";
import { furnish } from "./page";
import { Stage } from "./stage";

function say(text: string): void {
  found("said").textContent = text;
}

/** The place to draw in; null where the browser draws nothing in three dimensions. */
function stageOrNone(): Stage | null {
  try {
    return new Stage(found("picture"));
  } catch {
    found("why").textContent = "This browser cannot draw in three dimensions here, so this is a still drawing; the lists work as always.";
    return null;
  }
}

async function whole(): Promise<void> {
  const { record, glb } = await carried();
  const stage = stageOrNone();
  const app = new App(record, stage, say);
  Object.assign(globalThis, { casewright: app });
  furnish(app, stage);
  app.show(record, stage ? await meshes(glb) : new Map());
}

function ready(): void {
  requestAnimationFrame(() => (document.body.dataset["ready"] = "yes"));
}

function failed(error: unknown): void {
  found("why").textContent = `The picture cannot be shown: ${error instanceof Error ? error.message : String(error)}`;
  document.body.dataset["ready"] = "failed";
}

whole().then(ready, failed);
