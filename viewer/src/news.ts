// The line above the picture: what moved, what is wrong in the text, how the worker is.

import { make } from "./elements";
import type { FindingRecord } from "./record";

export interface TextProblem {
  line: number | null;
  column: number | null;
  where: string;
  message: string;
}

export interface Looked {
  number: number;
  file?: string;
  problems: TextProblem[];
  findings: FindingRecord[];
  moved: string[];
  more: number;
}

export interface News {
  looked: (told: Looked) => void;
  drawn: (number: number) => void;
  undrawn: (why: string) => void;
  worker: (state: string, words: string) => void;
  lost: () => void;
  found: () => void;
}

const FIRST = 4; // changes that are told before somebody asks for the rest

const WORKER: Record<string, (words: string) => string> = {
  starting: () => "The kernel is being loaded …",
  ready: () => "",
  lost: (words) => `The kernel was lost: ${words}. It is started again; the picture below is the last one.`,
  missing: (words) => `There is no picture: the CAD kernel cannot be loaded: ${words}`,
};

export function news(place: HTMLElement): News {
  const state = make("p", { class: "state", role: "status" });
  const kernel = make("p", { class: "kernel", role: "status" });
  const moved = make("div", { class: "moved", role: "status" });
  const wrong = make("div", { class: "wrong", role: "alert" });
  place.replaceChildren(state, moved, kernel, wrong);
  let latest = 0;
  let shown = 0;
  const set = (element: HTMLElement, ...content: (Node | string)[]): void => {
    element.replaceChildren(...content);
    element.hidden = !content.length || content[0] === "";
  };
  for (const element of [state, kernel, moved, wrong]) set(element);
  return {
    looked: (told) => {
      latest = told.number;
      set(wrong, ...mistakes(told.file ?? "", told.problems));
      if (told.problems.length) set(state, "Below is the last piece that could be set out.");
      else {
        set(state, told.number > shown ? "Drawing …" : "");
        set(moved, ...changes(told));
      }
    },
    drawn: (number) => {
      shown = number;
      if (number >= latest) set(state);
    },
    undrawn: (why) => set(state, `There is no picture of it: ${why}`),
    worker: (how, words) => {
      // that it was lost stays until it is there again
      if (how !== "starting" || kernel.hidden) set(kernel, (WORKER[how] ?? (() => words))(words));
    },
    lost: () => set(state, "The program does not answer; this is the last that it said."),
    found: () => set(state),
  };
}

function mistakes(file: string, problems: TextProblem[]): Node[] {
  if (!problems.length) return [];
  const rows = problems.map((one) => {
    const at = one.line === null ? `${file}: ` : `${file}:${one.line}:${one.column ?? 1}: `;
    return make("li", {}, make("b", {}, at), `${one.where}: ${one.message}`);
  });
  return [make("ul", {}, ...rows)];
}

function changes({ moved, more }: Looked): Node[] {
  if (!moved.length) return [];
  const line = make("p", {}, moved.slice(0, FIRST).join("; "));
  const list = make("ul", {}, ...moved.map((words) => make("li", {}, words)));
  if (more) list.append(make("li", {}, `and ${more} more`));
  return [line, make("details", {}, make("summary", {}, `all ${moved.length + more} that moved`), list)];
}
