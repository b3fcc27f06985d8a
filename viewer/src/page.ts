// The page around the piece: the head with its switches, the sheet, the card.

import type { App } from "./app";
import { card, tape } from "./card";
import { button, found, make, toggle } from "./elements";
import { listen } from "./keys";
import { lengthText } from "./lengths";
import { overlay, type Shown } from "./overlay";
import { type Page, panel } from "./panel";
import { room } from "./room";
import type { Stage } from "./stage";

export interface Extra {
  first: Page[];
  last: Page[];
}

export function furnish(app: App, stage: Stage | null, extra: Extra = { first: [], last: [] }): void {
  document.body.dataset["for"] = app.audience;
  const shown: Shown = { piece: true, openings: false };
  const picture = found("picture");
  if (stage) {
    found("still").hidden = true;
    overlay(app, stage, shown);
    room(app, stage);
    const measuring = toggle("Measure", false, (on) => app.measure(on));
    measuring.classList.add("bench-only");
    const flip = (): void => measuring.click();
    listen(app, stage, { measure: flip });
    app.on("measure", () => measuring.setAttribute("aria-pressed", String(app.measuring)));
    picture.append(make("div", { class: "tools" }, looks(app), switches(app, stage, shown), measuring));
  }
  picture.append(tape(app), card(app));
  found("panel").replaceChildren(panel(app, extra.first, extra.last));
  found("head").replaceChildren(title(app), ...people(app));
}

function title(app: App): HTMLElement {
  const words = make("div", { class: "title" });
  const fill = (): void => {
    const { piece, bounds, units, copies } = app.record;
    const lines: HTMLElement[] = [make("h1", {}, piece)];
    if (bounds) {
      const sides = [0, 1, 2].map((axis) => lengthText(bounds[1][axis]! - bounds[0][axis]!, units));
      lines.push(make("p", {}, `${sides[0]} long, ${sides[1]} deep, ${sides[2]} high, ${units}`, make("span", { class: "bench-only" }, `; ${copies.length} pieces`)));
    }
    words.replaceChildren(...lines);
    if (piece) document.title = piece;
  };
  app.on("piece", fill);
  fill();
  return words;
}

/** Who looks: the bench sees labels, joints and findings; a client sees the piece in a room. */
function people(app: App): HTMLElement[] {
  const bench = button("Bench", () => app.setAudience("bench"));
  const client = button("Client", () => app.setAudience("client"));
  const fill = (): void => {
    bench.setAttribute("aria-pressed", String(app.audience === "bench"));
    client.setAttribute("aria-pressed", String(app.audience === "client"));
  };
  app.on("audience", fill);
  fill();
  return [make("div", { class: "people", role: "group", "aria-label": "who looks" }, bench, client)];
}

function looks(app: App): HTMLElement {
  const row = make("div", { role: "group", "aria-label": "look from", class: "looks" });
  for (const view of ["corner", "front", "left", "right", "back", "above"] as const)
    row.append(button(view[0]!.toUpperCase() + view.slice(1), () => app.view(view)));
  return row;
}

function switches(app: App, stage: Stage, shown: Shown): HTMLElement {
  const sizes = toggle("Sizes", shown.piece, (on) => {
    shown.piece = on;
    stage.draw();
  });
  // a client asks for a picture first
  app.on("audience", () => {
    shown.piece = app.audience === "bench";
    sizes.setAttribute("aria-pressed", String(shown.piece));
  });
  const openings = toggle("Openings", shown.openings, (on) => {
    shown.openings = on;
    stage.draw();
  });
  return make("div", { role: "group", "aria-label": "numbers in the picture", class: "looks" }, sizes, openings);
}
