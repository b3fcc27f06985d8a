// Elements of the page. Text only ever becomes text: nothing here reads markup.

type Child = Node | string | null;
type Attributes = Record<string, string | number | boolean | null>;

const SVG = "http://www.w3.org/2000/svg";

function filled<E extends Element>(element: E, attributes: Attributes, children: Child[]): E {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === false) continue;
    element.setAttribute(name, value === true ? "" : String(value));
  }
  for (const child of children) if (child !== null) element.append(child);
  return element;
}

export function make<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: Child[]
): HTMLElementTagNameMap[K] {
  return filled(document.createElement(tag), attributes, children);
}

export function draw<K extends keyof SVGElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: Child[]
): SVGElementTagNameMap[K] {
  return filled(document.createElementNS(SVG, tag), attributes, children);
}

/** A button that does one thing. */
export function button(text: string, act: () => void, attributes: Attributes = {}): HTMLButtonElement {
  const made = make("button", { type: "button", ...attributes }, text);
  made.addEventListener("click", act);
  return made;
}

/** A button that is on or off, and says which. */
export function toggle(text: string, on: boolean, act: (on: boolean) => void): HTMLButtonElement {
  const made = make("button", { type: "button", "aria-pressed": String(on) }, text);
  made.addEventListener("click", () => {
    const now = made.getAttribute("aria-pressed") !== "true";
    made.setAttribute("aria-pressed", String(now));
    act(now);
  });
  return made;
}

/** A slider from 0 to 1 with its name before it; `told` says a value in words. */
export function slider(
  text: string,
  value: number,
  act: (value: number) => void,
  told: (value: number) => string = (share) => `${Math.round(share * 100)} %`,
): { row: HTMLElement; set: (value: number) => void } {
  const input = make("input", { type: "range", min: 0, max: 1, step: 0.005 });
  const label = make("label", { class: "slider" }, make("span", {}, text), input);
  const show = (share: number): void => {
    input.value = String(share);
    input.setAttribute("aria-valuetext", told(share));
  };
  input.addEventListener("input", () => {
    act(Number(input.value));
    input.setAttribute("aria-valuetext", told(Number(input.value)));
  });
  show(value);
  return { row: label, set: show };
}

/** The element with `id`, which the page's skeleton has. */
export function found(id: string): HTMLElement {
  const element = document.getElementById(id);
  if (!element) throw new Error(`the page has no #${id}`);
  return element;
}
