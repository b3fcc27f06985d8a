// Where the live view begins: the page follows the spec while somebody writes it.

import "./style.css";
import "./live.css";
import { App } from "./app";
import { found, make } from "./elements";
import { Meshes } from "./fetching";
import { hear } from "./hearing";
import { type Looked, news } from "./news";
import { type NumberField, numbers } from "./numbers";
import { furnish } from "./page";
import type { FindingRecord, PieceRecord, StepRecord, Vec } from "./record";
import { Stage } from "./stage";
import { writing } from "./writing";

const NOTHING: PieceRecord = {
  piece: "",
  units: "mm",
  version: "",
  bounds: null,
  materials: {},
  parts: [],
  copies: [],
  movers: [],
  joints: [],
  openings: [],
  steps: [],
  findings: [],
};

interface Drawn {
  number: number; // of the text
  drawn: number; // of the picture: one that is put right later has another
}

interface Order {
  number: number;
  steps: StepRecord[];
  apart: Record<string, Vec>;
}

function say(text: string): void {
  found("said").textContent = text;
}

function stageOrNone(): Stage | null {
  try {
    return new Stage(found("picture"));
  } catch {
    found("why").textContent = "This browser cannot draw in three dimensions here; the lists, the numbers and the drawings work as always.";
    return null;
  }
}

/** After what was asked for is on the screen. */
function drawn(act: () => void): void {
  requestAnimationFrame(() => requestAnimationFrame(act));
}

class Live {
  private readonly meshes = new Meshes();
  private findings: FindingRecord[] = [];
  private asked = 0;
  private drawn = 0;
  private shown = 0;
  private order: Order | null = null;

  constructor(readonly app: App) {}

  looked(told: Looked): void {
    if (!told.problems.length) {
      this.findings = told.findings;
      this.app.setFindings(told.findings);
    }
    drawn(() => (document.body.dataset["looked"] = String(told.number)));
  }

  /** Fetch the newest picture; one that is overtaken by another is let go. */
  async picture(told: Drawn): Promise<void> {
    if (told.drawn === this.asked) return; // told again
    this.asked = told.drawn;
    try {
      await this.fetched(told);
    } catch (error) {
      if (this.asked === told.drawn) this.asked = this.drawn; // when it is told again, it is asked for again
      throw error;
    }
  }

  private async fetched({ number, drawn: latest }: Drawn): Promise<void> {
    const answer = await fetch("record");
    if (!answer.ok) throw new Error(`the picture cannot be had: ${answer.status}`);
    const record = (await answer.json()) as PieceRecord;
    const bodies = this.app.stage ? await this.meshes.of(record) : new Map();
    if (this.asked !== latest) return;
    record.findings = this.findings;
    record.steps = this.app.record.steps;
    for (const copy of record.copies) copy.apart = this.app.copy(copy.id)?.apart ?? copy.apart;
    this.app.show(record, bodies);
    this.app.stage?.anew();
    [this.shown, this.drawn] = [number, latest];
    if (this.order) this.ordered(this.order);
    drawn(() => (document.body.dataset["shown"] = String(number)));
  }

  ordered(order: Order): void {
    this.order = order;
    if (order.number !== this.shown) return; // its picture is on the way
    this.app.setOrder(order.steps, order.apart);
    document.body.dataset["ordered"] = String(order.number);
  }
}

function begin(): void {
  const stage = stageOrNone();
  const app = new App(NOTHING, stage, say);
  const live = new Live(app);
  const telling = news(found("news"));
  const fields = numbers();
  const writer = writing();
  furnish(app, stage, { first: [{ id: "numbers", name: "Numbers", content: fields.content, bench: true }], last: [{ id: "write", name: "Write", content: writer.content, bench: true }] });
  if (!app.record.piece) found("head").querySelector("h1")?.replaceWith(make("h1", {}, "The piece is being made"));
  Object.assign(globalThis, { casewright: app });
  hear(
    {
      looked: (told: Looked) => {
        live.looked(told);
        telling.looked(told);
      },
      numbers: (told: { fields: NumberField[] }) => fields.show(told.fields),
      picture: (told: Drawn) => {
        live.picture(told).then(() => telling.drawn(told.number), () => telling.lost());
      },
      order: (told: Order) => live.ordered(told),
      undrawn: (told: { why: string }) => telling.undrawn(told.why),
      worker: (told: { state: string; words: string }) => telling.worker(told.state, told.words),
      written: (told: { state: string; words: string }) => writer.told(told.state, told.words),
      sheets: (told: { sheets: string[] }) => writer.sheets(told.sheets),
    },
    () => telling.found(),
    () => telling.lost(),
  );
  document.body.dataset["ready"] = "yes";
}

begin();
