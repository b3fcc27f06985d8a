// What the program tells a window, as it happens.

type Act = (told: never) => void;

/**
 * Hear the program's events by kind. A window that nobody sees hears nothing: a browser keeps six
 * connections to one place at most, and what was missed is told again when it is looked at.
 */
export function hear(acts: Record<string, Act>, found: () => void, lost: () => void): void {
  let source: EventSource | null = null;
  const begin = (): void => {
    if (source || document.visibilityState === "hidden") return;
    source = new EventSource("events");
    for (const [kind, act] of Object.entries(acts))
      source.addEventListener(kind, (event) => act(JSON.parse((event as MessageEvent<string>).data) as never));
    source.addEventListener("open", found);
    source.addEventListener("error", lost);
  };
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") {
      source?.close();
      source = null;
    } else begin();
  });
  begin();
}
