// What the view writes into the out folder, and the way to the drawings.

import { button, make } from "./elements";
import { sent } from "./numbers";

export function writing(): { content: HTMLElement; told: (state: string, words: string) => void; sheets: (names: string[]) => void } {
  const state = make("p", { class: "written", role: "status" });
  const choice = make("select", { "aria-label": "which sheet" });
  const ask = async (sheet: string | null): Promise<void> => {
    const why = await sent("write", sheet === null ? {} : { sheet });
    if (why) state.textContent = why;
  };
  const whole = button("Write the package", () => void ask(null));
  const one = button("Write this sheet", () => void ask(choice.value));
  const content = make(
    "section",
    { class: "writing", "aria-label": "write" },
    make("h3", {}, "The drawings"),
    make("p", {}, make("a", { href: "drawings", target: "_blank", rel: "noopener" }, "Show them as pages")),
    make("h3", {}, "Into the out folder"),
    make("div", { class: "row" }, whole),
    make("div", { class: "row" }, choice, one),
    state,
  );
  const told = (how: string, words: string): void => {
    for (const each of [whole, one]) each.disabled = how === "writing";
    const before: Record<string, string> = { writing: "Writing", written: "Written:", failed: "Not as it should be:" };
    state.textContent = `${before[how] ?? ""} ${words}`;
    state.dataset["state"] = how;
  };
  const sheets = (names: string[]): void => {
    const chosen = choice.value;
    choice.replaceChildren(...names.map((name) => make("option", { value: name }, name.replace(/^drawings\//, "").replace(/\.dxf$/, ""))));
    if (names.includes(chosen)) choice.value = chosen;
    one.disabled = !names.length;
  };
  sheets([]);
  return { content, told, sheets };
}
