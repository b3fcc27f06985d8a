"""Measure the live view: from a save to the findings and to the picture, and the worker's memory.

Ten edits of one drawer's height of the example cabinet in headless Chromium with software drawing,
then as many edits as asked for without a browser. Wants two free cores: the load before and after
is printed beside the figures.
"""

import argparse
import json
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from tests.helpers.live import View, viewing  # noqa: E402  the checkout comes first
from tests.helpers.readers import READERS  # noqa: E402

SPEC = ROOT / "examples" / "reading-room-cabinet.yaml"
HEIGHTS = "heights: [1 share, 1 share, 1.5 shares]"
PROVED = 4
"""After every so many edits the exact solids are waited for; the others follow at once."""
TICKS = os.sysconf("SC_CLK_TCK")


def heights(first: float) -> str:
    """The stack with its first drawer ``first`` high (mm)."""
    return f"heights: [{first:g}, 1 share, 1.5 shares]"


def memory(pid: int) -> float:
    """What a process holds (MB)."""
    for line in Path(f"/proc/{pid}/status").read_text().splitlines():
        if line.startswith("VmRSS"):
            return int(line.split()[1]) / 1024
    return 0.0


def work(pid: int) -> float:
    """Seconds of a core that a process has had."""
    words = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(words[11]) + int(words[12])) / TICKS


def in_browser(view: View, edits: int) -> None:
    """Print the medians of some edits in a browser."""
    node, browser = shutil.which("node"), shutil.which("chromium")
    assert node, "no node"
    assert browser, "no Chromium"
    first, second = view.children()
    pids = {"server": view.process.pid, "one worker": first, "the other": second}
    words = [heights(110 + 0.7 * count) for count in range(edits + 1)]
    before = {name: work(pid) for name, pid in pids.items()}
    command = [node, "edits.mjs", view.address, browser, str(view.spec), HEIGHTS, *words]
    ran = subprocess.run(  # noqa: S603 - our own script
        command, cwd=READERS, check=True, capture_output=True, text=True, timeout=300
    )
    seen = {what: times[1:] for what, times in json.loads(ran.stdout).items()}  # one to warm up
    for what, times in seen.items():
        middle = statistics.median(times)
        print(f"{what}: median {middle:.0f} ms, {min(times)} to {max(times)} ms, {edits} edits")
    for name, pid in pids.items():
        print(f"{name}: {(work(pid) - before[name]) / (edits + 1):.2f} s of a core an edit")


def growth(view: View, edits: int) -> None:
    """Print how the memory of the server and of its workers grows."""
    pids = {"server": view.process.pid, **dict(zip(("one", "other"), view.children(), strict=True))}
    text = view.spec.read_text(encoding="utf-8")
    start = text.index("heights: [")
    end = text.index("]", start) + 1
    marks: list[dict[str, float]] = []
    number = max(told["number"] for kind, told in view.heard.events if kind == "looked")
    for count in range(edits + 1):
        words = heights(100 + 0.1 * count)
        view.spec.write_text(text[:start] + words + text[end:], encoding="utf-8")
        number += 1
        view.shown(number)
        if count % PROVED == 0:
            view.heard.wait("proved", lambda told, number=number: told["number"] >= number)
        if count % max(1, edits // 10) == 0:
            marks.append({name: memory(pid) for name, pid in pids.items()})
            print(f"after {count} edits:", *(f"{n} {m:.0f} MB" for n, m in marks[-1].items()))
    for name in pids:
        print(
            f"{name} grows by {100 * (marks[-1][name] / marks[1][name] - 1):.1f} % after the first"
        )


def main() -> None:
    """Measure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--edits", type=int, default=10, help="edits in the browser")
    parser.add_argument("--memory", type=int, default=200, help="edits without one")
    asked = parser.parse_args()
    print(f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")
    with tempfile.TemporaryDirectory() as folder:
        spec = Path(folder) / "piece.yaml"
        spec.write_text(SPEC.read_text(encoding="utf-8"), encoding="utf-8")
        with viewing(spec, Path(folder) / "out") as view:
            view.heard.wait("order")
            if asked.edits:
                in_browser(view, asked.edits)
            if asked.memory:
                growth(view, asked.memory)
    print(f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")


if __name__ == "__main__":
    main()
