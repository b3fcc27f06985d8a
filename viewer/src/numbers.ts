// The numbers of the spec as fields: one that is changed is put anew in the file, and nothing else.

import { make } from "./elements";

export interface NumberField {
  path: (string | number)[];
  words: string;
  group: string;
  text: string;
  line: number;
  main: boolean;
  comment: string;
}

interface Row {
  item: HTMLElement;
  update: (field: NumberField) => void;
}

/** Send something to the program; what hinders it, in words, or nothing. */
export async function sent(where: string, content: unknown): Promise<string> {
  try {
    const answer = await fetch(where, { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(content) });
    const kind = answer.headers.get("content-type") ?? "";
    if (!kind.startsWith("application/json")) return await answer.text();
    return ((await answer.json()) as { why?: string }).why ?? "";
  } catch {
    return "The program does not answer; nothing was written.";
  }
}

export function numbers(): { content: HTMLElement; show: (fields: NumberField[]) => void } {
  const content = make("section", { class: "numbers", "aria-label": "numbers of the spec" });
  let rows = new Map<string, Row>();
  let shape = "";
  const show = (fields: NumberField[]): void => {
    const now = fields.map((field) => field.path.join("\u0000")).join("\u0001");
    if (now !== shape) {
      shape = now;
      rows = new Map(fields.map((field) => [JSON.stringify(field.path), row(field)]));
      content.replaceChildren(...grouped(fields, rows));
    }
    for (const field of fields) rows.get(JSON.stringify(field.path))?.update(field);
  };
  return { content, show };
}

function grouped(fields: NumberField[], rows: ReadonlyMap<string, Row>): HTMLElement[] {
  const made: HTMLElement[] = [];
  for (const main of [true, false])
    for (const group of new Set(fields.filter((field) => field.main === main).map((field) => field.group))) {
      const mine = fields.filter((field) => field.group === group).map((field) => rows.get(JSON.stringify(field.path))!.item);
      if (main) made.push(make("h3", {}, group), ...mine);
      else made.push(make("details", {}, make("summary", {}, group), ...mine));
    }
  return made.length ? made : [make("p", {}, "No number can be read in the file as it stands.")];
}

function row(first: NumberField): Row {
  let field = first;
  const input = make("input", { type: "text", spellcheck: "false", autocomplete: "off", inputmode: "text" });
  const line = make("small", { class: "line" });
  const wrong = make("p", { class: "refused", role: "alert" });
  wrong.hidden = true;
  const label = make("label", {}, make("span", {}, field.words), input);
  const put = async (): Promise<void> => {
    const text = input.value.trim();
    if (text === field.text) {
      wrong.hidden = true;
      return;
    }
    const why = await sent("number", { path: field.path, was: field.text, text });
    wrong.textContent = why;
    wrong.hidden = !why;
    if (!why) field = { ...field, text };
  };
  input.addEventListener("change", () => void put());
  input.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    input.value = field.text;
    wrong.hidden = true;
    event.stopPropagation();
  });
  const update = (now: NumberField): void => {
    const touched = document.activeElement === input && input.value.trim() !== field.text;
    field = now;
    if (!touched) input.value = now.text;
    line.textContent = `line ${now.line}${now.comment ? `: ${now.comment}` : ""}`;
  };
  return { item: make("div", { class: "number" }, label, line, wrong), update };
}
