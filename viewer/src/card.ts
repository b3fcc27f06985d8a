// What is known of the part that was picked.

import type { App } from "./app";
import { button, make, toggle } from "./elements";
import { lengthInBoth, sizeText } from "./lengths";
import type { CopyRecord, JointRecord, PartRecord } from "./record";

const GRAIN = { length: "along its length", width: "across its width", none: "none" } as const;

export function card(app: App): HTMLElement {
  const box = make("section", { class: "card", "aria-label": "the part picked" });
  const fill = (): void => {
    const copy = app.selected ? app.copy(app.selected) : undefined;
    const part = copy && app.part(copy);
    box.hidden = !copy || !part;
    if (copy && part) box.replaceChildren(...told(app, copy, part));
  };
  app.on("selection", fill);
  app.on("piece", fill);
  app.on("lists", fill);
  fill();
  return box;
}

function told(app: App, copy: CopyRecord, part: PartRecord): HTMLElement[] {
  const close = button("×", () => app.select(null), { class: "close", "aria-label": "close" });
  return [make("h2", {}, make("b", {}, copy.id), ` ${part.name}`), close, facts(app, copy, part), joints(app, copy), acts(app, copy)];
}

function facts(app: App, copy: CopyRecord, part: PartRecord): HTMLElement {
  const { units, materials } = app.record;
  const list = make("dl");
  const say = (what: string, value: string | HTMLElement | null): void => {
    if (value) list.append(make("dt", {}, what), make("dd", {}, value));
  };
  const unit = `length × width × thickness, ${units}`;
  if (part.finished) {
    // fittings come in mm whatever the piece is drawn in
    const both = part.kind === "hardware" && units === "in";
    say(`Finished (${unit})`, sizeText(part.finished, units));
    if (both) say("In mm", sizeText(part.finished, "mm"));
  }
  if (part.cut) say(`Cut (${unit})`, sizeText(part.cut, units));
  say("Material", part.material ? `${part.material}: ${materials[part.material] ?? ""}` : part.kind);
  if (part.grain) say("Grain", GRAIN[part.grain]);
  if (part.layers > 1) say("Layers", String(part.layers));
  if (part.staves > 1) say("Staves", String(part.staves));
  if (part.mass !== null) say("Mass", `${part.mass.toFixed(2)} kg`);
  say("Stands in", copy.group.join(", "));
  if (part.quantity > 1) say("Alike", `${part.quantity} pieces of ${part.label}`);
  if (part.drawing) say("Drawing", make("a", { href: part.drawing }, part.drawing));
  return list;
}

function joints(app: App, copy: CopyRecord): HTMLElement {
  const mine = app.record.joints.filter((joint) => [...joint.parts, ...joint.loose].includes(copy.id));
  const box = make("div", { class: "joints bench-only" });
  if (!mine.length) return box;
  box.append(make("h3", {}, "Joints"));
  box.append(make("ul", {}, ...mine.map((joint) => make("li", {}, ...line(app, copy, joint)))));
  return box;
}

function line(app: App, copy: CopyRecord, joint: JointRecord): (Node | string)[] {
  const others = joint.parts.filter((id) => id !== copy.id);
  const names = others.flatMap((id, place) => [place ? ", " : " ", button(app.title(id), () => app.select(id), { class: "link" })]);
  return [joint.kind, others.length ? " with" : "", ...names];
}

function acts(app: App, copy: CopyRecord): HTMLElement {
  const row = make("div", { class: "row" });
  const shown = app.shows(copy.id);
  row.append(button(shown ? "Hide" : "Show", () => app.hide([copy.id], shown)));
  row.append(button("Only this", () => app.isolate([copy.id])));
  const through = toggle("See through", app.through.has(copy.id), (on) => app.seeThrough(copy.id, on));
  row.append(through);
  if (copy.mover) row.append(button("Open or close", () => app.toggle(copy.mover!)));
  row.append(button("Show all", () => app.showAll()));
  return row;
}

/** What is being measured, in words. */
export function tape(app: App): HTMLElement {
  const box = make("output", { class: "tape" });
  const fill = (): void => {
    box.hidden = !app.measuring;
    const [first, second] = app.marks;
    const lines: (Node | string)[] = [];
    if (app.measured) {
      const { value, unit, what, from, to } = app.measured;
      const text = unit === "mm" ? lengthInBoth(value, app.record.units) : `${value.toFixed(2)}°`;
      lines.push(make("b", {}, text), make("span", {}, what));
      const slanted = unit === "mm" && [to.x - from.x, to.y - from.y, to.z - from.z].filter((part) => Math.abs(part) > 0.01);
      if (slanted && slanted.length > 1)
        lines.push(make("span", {}, `across ${sizeText([Math.abs(to.x - from.x)], app.record.units)}, deep ${sizeText([Math.abs(to.y - from.y)], app.record.units)}, up ${sizeText([Math.abs(to.z - from.z)], app.record.units)}`));
    } else lines.push(first ? "Now the second face, edge or corner." : "Pick two faces, edges or corners.");
    for (const thing of [first, second]) if (thing) lines.push(make("small", {}, thing.name));
    box.replaceChildren(...lines);
  };
  app.on("measure", fill);
  fill();
  return box;
}
