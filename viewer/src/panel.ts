// The sheet beside the picture: parts, what moves, what is found, the steps.

import type { App } from "./app";
import { button, make, slider } from "./elements";
import type { FindingRecord, StepRecord } from "./record";
import type { Axis } from "./section";
import { partsList } from "./tree";

export interface Page {
  id: string;
  name: string;
  content: HTMLElement;
  bench: boolean;
}

/** The lists; `first` and `last` are pages that only some views have. */
export function panel(app: App, first: Page[] = [], last: Page[] = []): HTMLElement {
  const pages: Page[] = [
    ...first,
    { id: "show", name: "Open and cut", content: moving(app), bench: false },
    { id: "parts", name: "Parts", content: partsList(app), bench: false },
    { id: "findings", name: "Findings", content: findings(app), bench: true },
    { id: "steps", name: "Steps", content: steps(app), bench: true },
    ...last,
  ];
  const bar = make("div", { role: "tablist", class: "tabs", "aria-label": "lists" });
  const choose = (chosen: Page): void => {
    for (const page of pages) {
      page.content.hidden = page !== chosen;
      const tab = bar.querySelector<HTMLElement>(`#tab-${page.id}`)!;
      tab.setAttribute("aria-selected", String(page === chosen));
      tab.tabIndex = page === chosen ? 0 : -1;
    }
  };
  for (const page of pages) {
    const attributes = { role: "tab", id: `tab-${page.id}`, "aria-controls": `page-${page.id}`, class: page.bench ? "bench-only" : "" };
    bar.append(button(page.name, () => choose(page), attributes));
    page.content.id = `page-${page.id}`;
    page.content.setAttribute("role", "tabpanel");
    page.content.setAttribute("aria-labelledby", `tab-${page.id}`);
    page.content.classList.add("page");
  }
  bar.addEventListener("keydown", (event) => arrows(bar, event));
  app.on("audience", () => choose(pages.find((page) => page.id === "show")!));
  const tabs = make("div", { class: "sheet" }, bar, ...pages.map((page) => page.content));
  choose(pages[0]!);
  return tabs;
}

function arrows(bar: HTMLElement, event: KeyboardEvent): void {
  const by = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
  if (!by) return;
  const tabs = [...bar.querySelectorAll<HTMLElement>('[role="tab"]')].filter((tab) => tab.offsetParent);
  const next = tabs[(tabs.indexOf(event.target as HTMLElement) + by + tabs.length) % tabs.length];
  next?.click();
  next?.focus();
}

// ---- what moves

function moving(app: App): HTMLElement {
  const box = make("section", { "aria-label": "open and cut" });
  const movers = make("div", { class: "movers" });
  let refresh: () => void = () => {};
  const build = (): void => {
    const made = openers(app);
    refresh = made.refresh;
    movers.replaceChildren(...(app.movers.length ? [make("h3", {}, "Drawers and doors"), ...made.rows] : []));
  };
  box.append(movers, make("h3", {}, "Apart, the way it goes together"), apart(app));
  box.append(make("h3", {}, "Cut through"), ...cutting(app));
  app.on("piece", build);
  app.on("pose", () => refresh());
  build();
  return box;
}

function openers(app: App): { rows: HTMLElement[]; refresh: () => void } {
  const ids = app.movers.map((mover) => mover.id);
  const sliders = new Map(ids.map((id) => [id, slider(id, app.openness(id), (share) => app.setOpen(id, share))]));
  const all = slider("All", 0, (share) => {
    for (const id of ids) app.model?.open.set(id, share);
    app.posed();
  });
  const refresh = (): void => {
    for (const [id, one] of sliders) one.set(app.openness(id));
    const shares = ids.map((id) => app.openness(id));
    if (new Set(shares).size === 1) all.set(shares[0]!);
  };
  const both = make(
    "div",
    { class: "row" },
    button("Open all", () => app.glide(ids, 1)),
    button("Close all", () => app.glide(ids, 0)),
  );
  return { rows: [both, all.row, ...[...sliders.values()].map((one) => one.row)], refresh };
}

function apart(app: App): HTMLElement {
  const one = slider("Apart", 0, (share) => app.setApart(share));
  app.on("pose", () => one.set(app.model?.apart ?? 0));
  return one.row;
}

const SIDES: [Axis, string][] = [
  ["x", "from the right"],
  ["y", "from the front"],
  ["z", "from above"],
];

function cutting(app: App): HTMLElement[] {
  const axis = make("select", { "aria-label": "which way the cut comes" });
  for (const [value, words] of SIDES) axis.append(make("option", { value }, words));
  axis.value = app.section?.axis ?? "x";
  const one = slider("Cut", app.section?.share ?? 0, (share) => app.setCut(axis.value as Axis, share));
  axis.addEventListener("change", () => app.setCut(axis.value as Axis, app.section?.share ?? 0));
  app.on("pose", () => one.set(app.section?.share ?? 0));
  return [make("label", { class: "slider" }, make("span", {}, "Side"), axis), one.row];
}

// ---- what is found

const HEADS = { error: "Errors", warning: "Warnings", note: "Notes" } as const;

function findings(app: App): HTMLElement {
  const box = make("section", { class: "findings", "aria-label": "findings" });
  const build = (): void => {
    const all = app.record.findings.map((finding, place) => ({ finding, place }));
    const heads = (Object.keys(HEADS) as (keyof typeof HEADS)[]).flatMap((severity) => {
      const mine = all.filter(({ finding }) => finding.severity === severity);
      if (!mine.length) return [];
      const list = make("ul", {}, ...mine.map(({ finding, place }) => row(app, finding, place)));
      return [make("h3", {}, `${HEADS[severity]} (${mine.length})`), list];
    });
    box.replaceChildren(...(heads.length ? heads : [make("p", {}, "Nothing was found amiss.")]));
  };
  app.on("piece", build);
  app.on("findings", build);
  build();
  return box;
}

function row(app: App, finding: FindingRecord, place: number): HTMLElement {
  const item = make("li", { id: `finding-${place}`, tabindex: -1, class: finding.severity });
  item.append(make("span", { class: "number" }, String(place + 1)), make("b", {}, finding.subject), `: ${finding.message}`);
  if (finding.facts) item.append(make("small", {}, finding.facts));
  const shown = finding.copies.filter((id) => app.copy(id)).slice(0, 8);
  if (shown.length) {
    const links = shown.map((id) => button(id, () => app.select(id), { class: "link", "aria-label": app.title(id) }));
    item.append(make("span", { class: "row" }, ...links, shown.length < finding.copies.length ? "and more" : ""));
  }
  return item;
}

// ---- the steps

function steps(app: App): HTMLElement {
  const box = make("section", { class: "steps", "aria-label": "steps of assembly" });
  const current = (): number => app.record.steps.findIndex((step) => step === app.model?.step);
  const go = (place: number): void => app.showStep(app.record.steps[place] ?? null);
  const build = (): void => {
    if (!app.record.steps.length) {
      box.replaceChildren(make("p", {}, "No order of assembly was worked out."));
      return;
    }
    const bar = make(
      "div",
      { class: "row" },
      button("Back", () => go(current() - 1)),
      button("Next", () => go(current() + 1)),
      button("Whole piece", () => go(-1)),
    );
    box.replaceChildren(bar, make("ol", {}, ...app.record.steps.map((step, place) => stepRow(step, () => go(place)))));
  };
  app.on("piece", build);
  app.on("order", build);
  app.on("step", () => {
    box.querySelectorAll("li").forEach((item, place) => {
      const on = place === current();
      item.setAttribute("aria-current", on ? "step" : "false");
      if (on) item.scrollIntoView({ block: "nearest" });
    });
    const step = app.model?.step;
    if (step) app.say(`step ${step.order}: ${step.title}`);
  });
  build();
  return box;
}

function stepRow(step: StepRecord, act: () => void): HTMLElement {
  const item = make("li", { value: step.order }, button(step.title, act, { class: "link" }), make("p", {}, step.does));
  if (step.note) item.append(make("p", { class: "note" }, step.note));
  return item;
}
