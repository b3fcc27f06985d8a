// The drawings one below the other, each drawn when it comes into sight, and anew after a change.

import "./style.css";
import "./drawings.css";
import { found, make } from "./elements";
import { hear } from "./hearing";

interface Sheets {
  number: number;
  sheets: string[];
}

const shownName = (name: string): string => name.replace(/^drawings\//, "").replace(/\.dxf$/, "");
const label = (name: string): string => shownName(name).split("-")[0]!;

class Pages {
  private readonly pages = new Map<string, { figure: HTMLElement; image: HTMLImageElement; number: number }>();
  private readonly sight = new IntersectionObserver((seen) => this.look(seen), { rootMargin: "400px" });
  private number = 0;

  constructor(readonly place: HTMLElement) {}

  show({ number, sheets }: Sheets): void {
    this.number = number;
    for (const [name, page] of this.pages)
      if (!sheets.includes(name)) {
        page.figure.remove();
        this.pages.delete(name);
      }
    for (const name of sheets) {
      if (!this.pages.has(name)) this.add(name);
      this.place.append(this.pages.get(name)!.figure);
    }
    // those in sight are seen to again
    for (const { figure } of this.pages.values()) {
      this.sight.unobserve(figure);
      this.sight.observe(figure);
    }
  }

  private add(name: string): void {
    const image = make("img", { alt: `drawing ${shownName(name)}` });
    const state = make("p", { class: "state" }, "Being drawn …");
    image.addEventListener("load", () => {
      state.hidden = true;
      image.dataset["drawn"] = "yes";
    });
    image.addEventListener("error", () => {
      state.hidden = false;
      state.textContent = "This sheet cannot be drawn just now; it is tried again after the next change.";
    });
    const figure = make("figure", { class: "leaf", id: label(name) }, make("figcaption", {}, shownName(name)), image, state);
    this.pages.set(name, { figure, image, number: 0 });
  }

  private look(seen: IntersectionObserverEntry[]): void {
    for (const { isIntersecting, target } of seen) {
      const entry = [...this.pages].find(([, page]) => page.figure === target);
      if (!isIntersecting || !entry || entry[1].number === this.number) continue;
      entry[1].number = this.number;
      entry[1].image.src = `sheet?name=${encodeURIComponent(entry[0])}&number=${this.number}`;
    }
  }
}

function begin(): void {
  const title = make("h1", {}, "Drawings");
  const state = make("p", { role: "status" });
  found("head").replaceChildren(title, state, make("a", { href: "./" }, "To the piece"));
  const pages = new Pages(found("sheets"));
  let first = true;
  const sheets = (told: Sheets): void => {
    pages.show(told);
    if (first && location.hash) document.getElementById(decodeURIComponent(location.hash.slice(1)))?.scrollIntoView();
    first = false;
    document.body.dataset["ready"] = "yes";
  };
  const lost = "The program does not answer; these are the last drawings.";
  hear({ sheets }, () => (state.textContent = ""), () => (state.textContent = lost));
}

begin();
