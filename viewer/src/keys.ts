// The picture under the fingers: pointer, touch and keys.

import type { App } from "./app";
import type { Stage } from "./stage";

const STILL = 5; // pixels: a pointer that moved further has turned the view, not clicked
const TURN = 7; // degrees a key

export const HELP =
  "Arrow keys turn, with Shift they shift, + and - come nearer and go away; 1 to 6 look from the corner," +
  " front, left, right, back and above; O opens, H hides and I leaves only the part picked, A shows all," +
  " M measures, Escape lets go.";

export function listen(app: App, stage: Stage, switches: { measure: () => void }): void {
  const canvas = stage.renderer.domElement;
  canvas.tabIndex = 0;
  canvas.setAttribute("role", "application");
  canvas.setAttribute("aria-label", `the piece, to turn and to pick from. ${HELP}`);
  let down: { x: number; y: number } | null = null;
  canvas.addEventListener("pointerdown", (event) => (down = event.isPrimary && !event.button ? { x: event.clientX, y: event.clientY } : null));
  canvas.addEventListener("pointerup", (event) => {
    if (!down || !event.isPrimary || Math.hypot(event.clientX - down.x, event.clientY - down.y) > STILL) return;
    const box = canvas.getBoundingClientRect();
    app.click(event.clientX - box.left, event.clientY - box.top);
  });
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    if (app.measuring) switches.measure();
    else app.select(null);
  });
  canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const act = acts(app, stage, switches)[event.shiftKey ? `Shift ${event.key}` : event.key];
    if (!act) return;
    event.preventDefault();
    act();
  });
}

function acts(app: App, stage: Stage, switches: { measure: () => void }): Record<string, () => void> {
  const picked = (act: (id: string) => void) => () => {
    if (app.selected) act(app.selected);
  };
  return {
    ArrowLeft: () => stage.turn(-TURN, 0),
    ArrowRight: () => stage.turn(TURN, 0),
    ArrowUp: () => stage.turn(0, TURN),
    ArrowDown: () => stage.turn(0, -TURN),
    "Shift ArrowLeft": () => stage.pan(-0.03, 0),
    "Shift ArrowRight": () => stage.pan(0.03, 0),
    "Shift ArrowUp": () => stage.pan(0, 0.03),
    "Shift ArrowDown": () => stage.pan(0, -0.03),
    "+": () => stage.near(0.85),
    "=": () => stage.near(0.85),
    "Shift +": () => stage.near(0.85),
    "-": () => stage.near(1 / 0.85),
    "1": () => app.view("corner"),
    "2": () => app.view("front"),
    "3": () => app.view("left"),
    "4": () => app.view("right"),
    "5": () => app.view("back"),
    "6": () => app.view("above"),
    o: picked((id) => {
      const mover = app.copy(id)?.mover;
      if (mover) app.toggle(mover);
    }),
    h: picked((id) => app.hide([id])),
    i: picked((id) => app.isolate([id])),
    a: () => app.showAll(),
    m: switches.measure,
  };
}
