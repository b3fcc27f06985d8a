// The page's state, and what everything on it may do with the piece.

import { Box3, LineBasicMaterial, Vector3 } from "three";
import { between, type Measured, type Picked } from "./measure";
import { Model, vector } from "./model";
import { hit, picked } from "./picking";
import type { CopyRecord, FindingRecord, MoverRecord, PartRecord, PieceRecord, StepRecord, Vec } from "./record";
import { type Axis, Section } from "./section";
import type { Body } from "./solidity";
import type { Stage, View } from "./stage";

const OPENING = 380; // ms that a drawer takes to open
export const TALL = 1700; // mm: somebody of middle height, from memory
export const BESIDE = 650; // mm: how far beside the piece somebody needs
export const SIZES_OFF = 0.06; // of the piece's longest side: how far its sizes stand off
const THROUGH = 0.16; // opacity of what is seen through

export type Notice = "piece" | "findings" | "order" | "selection" | "pose" | "lists" | "measure" | "step" | "audience";
export type Audience = "bench" | "client";

/** One piece on one page; without a stage only the lists and the still drawing are there. */
export class App {
  record: PieceRecord;
  model: Model | null = null;
  section: Section | null = null;
  selected: string | null = null;
  audience: Audience = "bench";
  measuring = false;
  readonly marks: Picked[] = [];
  measured: Measured | null = null;
  readonly through = new Set<string>();
  readonly ink = new LineBasicMaterial({ color: "#3b2c1d" });
  private readonly heard = new Map<Notice, (() => void)[]>();
  private readonly moves = new Map<string, number>();

  constructor(
    record: PieceRecord,
    readonly stage: Stage | null,
    readonly say: (text: string) => void,
  ) {
    this.record = record;
    if (!stage) return;
    this.section = new Section(stage);
    this.ink.clippingPlanes = this.section.planes;
  }

  on(notice: Notice, act: () => void): void {
    this.heard.set(notice, [...(this.heard.get(notice) ?? []), act]);
  }

  tell(notice: Notice): void {
    for (const act of this.heard.get(notice) ?? []) act();
  }

  // ---- the piece

  /** Show a piece; what is open, hidden and selected stays so where it is there again. */
  show(record: PieceRecord, shapes: ReadonlyMap<string, Body>): void {
    this.record = record;
    if (this.stage && this.section) {
      const before = this.model;
      const model = new Model(record, shapes, this.ink, this.section.planes, before);
      if (before) this.carryOver(before, model);
      this.model = model;
      this.stage.add(model.root);
      this.stage.room(this.bounds());
      if (!before) this.stage.look("corner", this.framed());
    }
    this.forgetMarks();
    if (this.selected && !this.copy(this.selected)) this.selected = null;
    this.tell("piece");
    this.highlight();
    this.posed();
  }

  private carryOver(before: Model, after: Model): void {
    for (const [id, share] of before.open) after.open.set(id, share);
    for (const id of before.hidden) after.hidden.add(id);
    after.only = before.only;
    after.apart = before.apart;
    before.root.removeFromParent();
    this.section?.forget();
    before.dispose(after);
  }

  /** Findings that are known before the piece they speak of is drawn. */
  setFindings(findings: FindingRecord[]): void {
    this.record.findings = findings;
    this.tell("findings");
    this.stage?.over();
  }

  /** The steps, and how each copy comes off, which are worked out after the picture. */
  setOrder(steps: StepRecord[], apart: Record<string, Vec>): void {
    this.record.steps = steps;
    for (const copy of this.record.copies) copy.apart = apart[copy.id] ?? copy.apart;
    this.tell("order");
    if (this.model?.apart) this.posed();
  }

  bounds(): Box3 {
    const box = this.record.bounds;
    if (box) return new Box3(vector(box[0]), vector(box[1]));
    return new Box3(new Vector3(), new Vector3(1000, 500, 500));
  }

  /** What the picture should hold: all parts, and the sizes beside them or somebody. */
  framed(): Box3 {
    const box = this.model?.apart ? this.model.box() : this.bounds();
    if (this.audience === "client") return box.expandByPoint(new Vector3(box.max.x + BESIDE, box.min.y, box.min.z + TALL));
    if (this.model?.apart) return box; // no sizes are shown then
    const off = SIZES_OFF * (this.model?.reach() ?? 0);
    box.min.add(new Vector3(-off, -off, 0));
    box.max.add(new Vector3(off, 0, 0));
    return box;
  }

  copy(id: string): CopyRecord | undefined {
    return this.record.copies.find((copy) => copy.id === id);
  }

  part(copy: CopyRecord): PartRecord | undefined {
    return this.record.parts.find((part) => part.label === copy.label);
  }

  /** What a copy is called on the page. */
  title(id: string): string {
    const copy = this.copy(id);
    return copy ? `${id} ${this.part(copy)?.name ?? ""}`.trim() : id;
  }

  /** Everything has moved: pose, cut and draw anew. */
  posed(): void {
    this.model?.pose();
    if (this.model) this.section?.apply(this.model);
    this.stage?.changed();
    this.tell("pose");
  }

  // ---- picking

  /** A click at a place of the picture. */
  click(x: number, y: number): void {
    if (!this.stage || !this.model || !this.section) return;
    const found = hit(this.stage, this.model, this.section, x, y);
    if (this.measuring) {
      const thing = found && picked(this.stage, found, x, y);
      if (thing) this.mark(thing);
      return;
    }
    const id = found?.copy.record.id ?? null;
    const mover = found?.copy.record.mover ?? null;
    const again = id !== null && id === this.selected;
    if (mover && (again || this.audience === "client")) this.toggle(mover);
    if (this.audience === "bench") this.select(id);
  }

  select(id: string | null): void {
    this.selected = id;
    this.highlight();
    this.stage?.draw();
    this.tell("selection");
    if (id) this.say(`${this.title(id)} selected`);
  }

  private highlight(): void {
    for (const copy of this.model?.copies.values() ?? []) {
      const { material } = copy.mesh;
      material.emissive.set(copy.record.id === this.selected ? "#2a5a55" : "#000000");
      material.emissiveIntensity = 0.55;
      const seen = this.through.has(copy.record.id);
      material.transparent = seen;
      material.depthWrite = !seen;
      material.opacity = seen ? THROUGH : 1;
      copy.mesh.castShadow = !seen;
    }
  }

  seeThrough(id: string, on: boolean): void {
    if (on) this.through.add(id);
    else this.through.delete(id);
    this.highlight();
    this.stage?.changed();
    this.tell("selection");
  }

  // ---- hiding

  hide(ids: Iterable<string>, on = true): void {
    for (const id of ids)
      if (on) this.model?.hidden.add(id);
      else this.model?.hidden.delete(id);
    this.posed();
    this.tell("lists");
  }

  isolate(ids: Iterable<string>): void {
    if (this.model) this.model.only = new Set(ids);
    this.posed();
    this.tell("lists");
  }

  showAll(): void {
    this.model?.hidden.clear();
    this.through.clear();
    if (this.model) this.model.only = null;
    this.highlight();
    this.posed();
    this.tell("lists");
    this.say("every part is shown");
  }

  shows(id: string): boolean {
    return this.model ? this.model.shows(id) : true;
  }

  // ---- opening, parting, cutting

  openness(mover: string): number {
    return this.model?.open.get(mover) ?? 0;
  }

  setOpen(mover: string, share: number): void {
    cancelAnimationFrame(this.moves.get(mover) ?? 0);
    this.model?.open.set(mover, share);
    this.posed();
  }

  toggle(mover: string): void {
    const to = this.openness(mover) > 0.5 ? 0 : 1;
    this.say(`${mover} ${to ? "opens" : "closes"}`);
    this.glide([mover], to);
  }

  /** Open or close some of them, as slowly as the person likes things to move. */
  glide(movers: string[], to: number): void {
    const from = new Map(movers.map((mover) => [mover, this.openness(mover)]));
    const start = performance.now();
    const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
    const step = (now: number): void => {
      const gone = still ? 1 : Math.min(Math.max((now - start) / OPENING, 0), 1);
      const eased = gone * gone * (3 - 2 * gone);
      for (const [mover, was] of from) this.model?.open.set(mover, was + (to - was) * eased);
      this.posed();
      if (gone < 1) for (const mover of movers) this.moves.set(mover, requestAnimationFrame(step));
    };
    for (const mover of movers) cancelAnimationFrame(this.moves.get(mover) ?? 0);
    step(start);
  }

  get movers(): MoverRecord[] {
    return this.record.movers;
  }

  setApart(share: number): void {
    if (this.model) this.model.apart = share;
    this.posed();
    this.stage?.refill(this.framed());
  }

  setCut(axis: Axis, share: number): void {
    if (!this.section) return;
    this.section.axis = axis;
    this.section.share = share;
    this.posed();
  }

  // ---- steps

  /** Show the piece as it is after a step, with what that step takes up held off; null: whole. */
  showStep(step: StepRecord | null): void {
    if (!this.model) return;
    const taken = this.record.steps.filter((one) => step && one.order <= step.order);
    this.model.step = step;
    this.model.stepped = step ? new Set(taken.flatMap((one) => one.copies)) : null;
    this.posed();
    this.tell("step");
  }

  // ---- measuring

  measure(on: boolean): void {
    this.measuring = on;
    this.forgetMarks();
    if (on) this.select(null);
    if (on && this.model?.apart) this.setApart(0);
    this.tell("measure");
    this.stage?.draw();
    if (on) this.say("pick two faces, edges or corners");
  }

  private mark(thing: Picked): void {
    if (this.marks.length === 2) this.marks.length = 0;
    this.marks.push(thing);
    this.measured = this.marks.length === 2 ? between(this.marks[0]!, this.marks[1]!) : null;
    this.tell("measure");
    this.stage?.draw();
  }

  private forgetMarks(): void {
    this.marks.length = 0;
    this.measured = null;
    this.tell("measure");
  }

  // ---- who looks

  setAudience(audience: Audience): void {
    this.audience = audience;
    document.body.dataset["for"] = audience;
    if (audience === "client") {
      this.measure(false);
      this.select(null);
    }
    this.tell("audience");
    this.stage?.changed();
    this.stage?.look("corner", this.framed());
  }

  view(view: View): void {
    this.stage?.look(view, this.framed());
    this.say(view === "corner" ? "seen from the corner" : `seen from ${view === "above" ? "above" : `the ${view}`}`);
  }
}
