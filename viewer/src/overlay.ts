// Lines and numbers over the picture: sizes of the piece and its openings, what is measured, pins.

import { Vector3 } from "three";
import { type App, SIZES_OFF } from "./app";
import { button, draw, found } from "./elements";
import { angleText, lengthInBoth, lengthText } from "./lengths";
import { vector } from "./model";
import type { FindingRecord } from "./record";
import type { Stage } from "./stage";

interface Size {
  from: Vector3;
  to: Vector3;
  text: string;
  of: "piece" | "opening" | "measured";
}

export type Shown = { piece: boolean; openings: boolean };

export function overlay(app: App, stage: Stage, shown: Shown): void {
  const paper = draw("svg", { class: "sizes", "aria-hidden": true });
  found("picture").append(paper);
  const pins = pinned(app);
  const redraw = (): void => {
    paper.replaceChildren(...sizes(app, shown).flatMap((size) => drawn(stage, size)), ...crosses(app, stage));
    pins(stage);
  };
  stage.drawn.push(redraw);
}

function sizes(app: App, shown: Shown): Size[] {
  const found: Size[] = [];
  if (shown.piece) found.push(...ofPiece(app));
  if (shown.openings) found.push(...ofOpenings(app));
  const { measured, record } = app;
  if (measured) {
    const text = measured.unit === "mm" ? lengthInBoth(measured.value, record.units) : angleText(measured.value);
    found.push({ from: measured.from, to: measured.to, text, of: "measured" });
  }
  return found;
}

function ofPiece({ record, model }: App): Size[] {
  if (!record.bounds || !model || model.apart || model.step) return [];
  const [low, high] = record.bounds.map(vector) as [Vector3, Vector3];
  const off = SIZES_OFF * model.reach();
  const size = (from: Vector3, to: Vector3): Size => {
    return { from, to, text: lengthText(from.distanceTo(to), record.units), of: "piece" };
  };
  return [
    size(new Vector3(low.x, low.y - off, low.z), new Vector3(high.x, low.y - off, low.z)),
    size(new Vector3(high.x + off, low.y, low.z), new Vector3(high.x + off, high.y, low.z)),
    size(new Vector3(low.x - off, low.y, low.z), new Vector3(low.x - off, low.y, high.z)),
  ];
}

function ofOpenings({ record, model }: App): Size[] {
  if (!model || model.apart || model.step) return [];
  return record.openings.flatMap((opening): Size[] => {
    const [x, y, z] = opening.corner;
    const level = z + opening.height * 0.5;
    const upright = x + opening.width * 0.18;
    const text = (mm: number): string => lengthText(mm, record.units);
    return [
      { from: new Vector3(x, y, level), to: new Vector3(x + opening.width, y, level), text: text(opening.width), of: "opening" },
      { from: new Vector3(upright, y, z), to: new Vector3(upright, y, z + opening.height), text: text(opening.height), of: "opening" },
    ];
  });
}

function drawn(stage: Stage, { from, to, text, of }: Size): Element[] {
  const [a, b] = [stage.at(from), stage.at(to)];
  if (!a || !b) return [];
  const far = Math.hypot(b.x - a.x, b.y - a.y) || 1;
  const [u, v] = [(b.x - a.x) / far, (b.y - a.y) / far];
  const tick = (p: { x: number; y: number }): string =>
    `M${(p.x - 5 * (u + v)).toFixed(1)} ${(p.y - 5 * (v - u)).toFixed(1)}L${(p.x + 5 * (u + v)).toFixed(1)} ${(p.y + 5 * (v - u)).toFixed(1)}`;
  const line = draw("path", { class: of, d: `M${a.x.toFixed(1)} ${a.y.toFixed(1)}L${b.x.toFixed(1)} ${b.y.toFixed(1)}${tick(a)}${tick(b)}` });
  const middle = { x: ((a.x + b.x) / 2).toFixed(1), y: ((a.y + b.y) / 2).toFixed(1) };
  return [line, draw("text", { class: of, ...middle, "text-anchor": "middle", dy: "0.35em" }, text)];
}

/** Where the two things measured were picked. */
function crosses(app: App, stage: Stage): Element[] {
  return app.marks.flatMap((thing) => {
    const at = stage.at(thing.at);
    return at ? [draw("circle", { class: "mark", cx: at.x.toFixed(1), cy: at.y.toFixed(1), r: 4 })] : [];
  });
}

const WORDS = { error: "Error", warning: "Warning", note: "Note" } as const;

/** A pin for each finding that has a place; those at one place share it. */
function pinned(app: App): (stage: Stage) => void {
  const layer = found("pins");
  let pins: { pin: HTMLElement; at: () => Vector3 | null }[] = [];
  const build = (): void => {
    pins = app.record.findings.flatMap((finding, place) => {
      if (!finding.at && !finding.copies.length) return [];
      const text = `${WORDS[finding.severity]}: ${finding.subject}: ${finding.message}`;
      const pin = button(String(place + 1), () => chosen(app, finding, place), { class: `pin ${finding.severity}`, title: text, "aria-label": text });
      return [{ pin, at: () => whereabouts(app, finding) }];
    });
    layer.replaceChildren(...pins.map(({ pin }) => pin));
  };
  app.on("piece", build);
  app.on("findings", build);
  build();
  return (stage) => {
    const taken = new Map<string, number>();
    for (const { pin, at } of pins) {
      const place = at();
      const seen = place && stage.at(place);
      pin.hidden = !seen || app.audience === "client" || app.section!.plane.distanceToPoint(place) < 0;
      if (!seen) continue;
      const key = `${Math.round(seen.x / 16)},${Math.round(seen.y / 16)}`;
      const before = taken.get(key) ?? 0;
      taken.set(key, before + 1);
      pin.style.transform = `translate(${(seen.x + 18 * before).toFixed(1)}px, ${seen.y.toFixed(1)}px)`;
    }
  };
}

/** The place that a finding speaks of: its own, else the middle of the first part that is shown. */
function whereabouts(app: App, finding: FindingRecord): Vector3 | null {
  if (finding.at) return vector(finding.at);
  // what names a dozen parts or more speaks of the whole piece, not of a place
  if (finding.copies.length > 12) return null;
  const copy = finding.copies.map((id) => app.model?.copies.get(id)).find((one) => one?.node.visible);
  if (!copy) return null;
  copy.body.geometry.boundingBox ?? copy.body.geometry.computeBoundingBox();
  return copy.body.geometry.boundingBox!.getCenter(new Vector3()).applyMatrix4(copy.node.matrix);
}

function chosen(app: App, finding: FindingRecord, place: number): void {
  const first = finding.copies.find((id) => app.copy(id));
  if (first) app.select(first);
  const row = document.getElementById(`finding-${place}`);
  document.getElementById("tab-findings")?.click();
  row?.scrollIntoView({ block: "nearest" });
  row?.focus();
}
