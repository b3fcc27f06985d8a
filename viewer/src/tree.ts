// The parts as a tree that works with a keyboard and is read out as one.

import type { App } from "./app";
import { button, make } from "./elements";
import type { CopyRecord } from "./record";

interface Branch {
  name: string;
  branches: Map<string, Branch>;
  copies: CopyRecord[];
}

interface Filter {
  text: string;
  kind: string;
}

export function partsList(app: App): HTMLElement {
  const filter: Filter = { text: "", kind: "" };
  let shape = "";
  const tree = make("ul", { role: "tree", class: "tree", "aria-label": "parts" });
  const rebuild = (): void => {
    const now = JSON.stringify([filter, app.record.copies.map((copy) => [copy.id, copy.group, app.part(copy)?.name, app.part(copy)?.material])]);
    if (now !== shape) grown(app, tree, filter);
    else dim(app, tree);
    shape = now;
  };
  const box = make("section", { class: "parts" }, filters(app, filter, rebuild), tree, shows(app, filter));
  app.on("piece", rebuild);
  app.on("selection", () => mark(app, tree));
  app.on("lists", () => dim(app, tree));
  tree.addEventListener("keydown", (event) => keyed(app, tree, event));
  rebuild();
  return box;
}

function filters(app: App, filter: Filter, rebuild: () => void): HTMLElement {
  const text = make("input", { type: "search", placeholder: "Find a part", "aria-label": "find a part" });
  text.addEventListener("input", () => {
    filter.text = text.value.trim().toLowerCase();
    rebuild();
  });
  const kind = make("select", { "aria-label": "only one material" });
  const fill = (): void => {
    const keys = [...new Set(app.record.parts.map((part) => part.material ?? part.kind))].sort();
    const choice = (value: string, words: string): HTMLElement => make("option", { value }, words);
    kind.replaceChildren(choice("", "Every material"), ...keys.map((key) => choice(key, key)));
    kind.value = filter.kind;
  };
  kind.addEventListener("change", () => {
    filter.kind = kind.value;
    rebuild();
  });
  app.on("piece", fill);
  fill();
  return make("div", { class: "filters" }, text, kind);
}

function shows(app: App, filter: Filter): HTMLElement {
  const these = button("Show only these", () => app.isolate(fitting(app, filter).map((copy) => copy.id)));
  return make("div", { class: "row" }, these, button("Show all", () => app.showAll()));
}

function fitting(app: App, { text, kind }: Filter): CopyRecord[] {
  return app.record.copies.filter((copy) => {
    const part = app.part(copy);
    if (!part || (kind && (part.material ?? part.kind) !== kind)) return false;
    return !text || `${copy.id} ${part.name} ${copy.group.join(" ")}`.toLowerCase().includes(text);
  });
}

function grown(app: App, tree: HTMLElement, filter: Filter): void {
  const open = new Set([...tree.querySelectorAll('[aria-expanded="true"]')].map((item) => item.getAttribute("data-path")));
  const root: Branch = { name: "", branches: new Map(), copies: [] };
  for (const copy of fitting(app, filter)) {
    let here = root;
    for (const name of copy.group) {
      const next = here.branches.get(name) ?? { name, branches: new Map(), copies: [] };
      here.branches.set(name, next);
      here = next;
    }
    here.copies.push(copy);
  }
  const wide = filter.text !== "" || filter.kind !== "";
  const opened = (path: string): boolean => wide || open.has(path);
  tree.replaceChildren(...items(app, root, "", opened));
  const first = tree.querySelector<HTMLElement>('[role="treeitem"]');
  if (first) first.tabIndex = 0;
  mark(app, tree);
  dim(app, tree);
}

function items(app: App, branch: Branch, path: string, opened: (path: string) => boolean): HTMLElement[] {
  const groups = [...branch.branches.values()].map((inner) => {
    const where = `${path}/${inner.name}`;
    const list = make("ul", { role: "group" }, ...items(app, inner, where, opened));
    const item = make("li", { role: "treeitem", tabindex: -1, "aria-expanded": String(opened(where)), "data-path": where, "aria-label": inner.name });
    const count = list.querySelectorAll("[data-copy]").length;
    const row = make("span", { class: "line" }, inner.name, make("small", {}, String(count)));
    row.addEventListener("click", () => expand(item, item.getAttribute("aria-expanded") !== "true"));
    item.append(row, list);
    return item;
  });
  return [...groups, ...branch.copies.map((copy) => leaf(app, copy))];
}

function leaf(app: App, copy: CopyRecord): HTMLElement {
  const name = app.part(copy)?.name ?? "";
  const item = make("li", { role: "treeitem", tabindex: -1, "data-copy": copy.id, "aria-selected": "false", "aria-label": `${copy.id} ${name}` });
  const row = make("span", { class: "line" }, make("b", {}, copy.id), ` ${name}`);
  row.addEventListener("click", () => app.select(copy.id));
  item.append(row);
  return item;
}

function expand(item: HTMLElement, on: boolean): void {
  item.setAttribute("aria-expanded", String(on));
}

function mark(app: App, tree: HTMLElement): void {
  for (const item of tree.querySelectorAll<HTMLElement>("[data-copy]")) {
    const on = item.dataset["copy"] === app.selected;
    item.setAttribute("aria-selected", String(on));
    if (!on) continue;
    for (let up = item.parentElement; up && up !== tree; up = up.parentElement)
      if (up.getAttribute("role") === "treeitem") expand(up, true);
    item.scrollIntoView({ block: "nearest" });
  }
}

function dim(app: App, tree: HTMLElement): void {
  for (const item of tree.querySelectorAll<HTMLElement>("[data-copy]")) {
    const shown = app.shows(item.dataset["copy"]!);
    item.classList.toggle("hidden-part", !shown);
    item.setAttribute("aria-label", `${app.title(item.dataset["copy"]!)}${shown ? "" : ", hidden"}`);
  }
}

// ---- keys, as the authoring practices of ARIA have them for trees

function visible(tree: HTMLElement): HTMLElement[] {
  return [...tree.querySelectorAll<HTMLElement>('[role="treeitem"]')].filter(
    (item) => !item.parentElement?.closest('[aria-expanded="false"]'),
  );
}

function focus(tree: HTMLElement, item: HTMLElement | null | undefined): void {
  if (!item) return;
  for (const other of tree.querySelectorAll<HTMLElement>('[tabindex="0"]')) other.tabIndex = -1;
  item.tabIndex = 0;
  item.focus();
}

function copiesIn(item: HTMLElement): string[] {
  const own = item.dataset["copy"];
  if (own) return [own];
  return [...item.querySelectorAll<HTMLElement>("[data-copy]")].map((inner) => inner.dataset["copy"]!);
}

function keyed(app: App, tree: HTMLElement, event: KeyboardEvent): void {
  const item = (event.target as HTMLElement).closest<HTMLElement>('[role="treeitem"]');
  if (!item || event.ctrlKey || event.metaKey || event.altKey) return;
  const all = visible(tree);
  const place = all.indexOf(item);
  const expanded = item.getAttribute("aria-expanded");
  const acts: Record<string, () => void> = {
    ArrowDown: () => focus(tree, all[place + 1]),
    ArrowUp: () => focus(tree, all[place - 1]),
    Home: () => focus(tree, all[0]),
    End: () => focus(tree, all.at(-1)),
    ArrowRight: () => {
      if (expanded === "false") expand(item, true);
      else if (expanded === "true") focus(tree, item.querySelector<HTMLElement>('[role="treeitem"]'));
    },
    ArrowLeft: () => {
      if (expanded === "true") expand(item, false);
      else focus(tree, item.parentElement?.closest<HTMLElement>('[role="treeitem"]'));
    },
    Enter: () => (expanded === null ? app.select(item.dataset["copy"]!) : expand(item, expanded !== "true")),
    " ": () => (expanded === null ? app.select(item.dataset["copy"]!) : expand(item, expanded !== "true")),
    h: () => {
      const ids = copiesIn(item);
      app.hide(ids, ids.some((id) => app.shows(id)));
    },
    i: () => app.isolate(copiesIn(item)),
    a: () => app.showAll(),
  };
  const act = acts[event.key];
  if (!act) return;
  event.preventDefault();
  event.stopPropagation();
  act();
}
