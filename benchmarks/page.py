"""Measure how soon piece.html is there: the page ready to be used, and its first picture drawn.

In headless Chromium with software drawing, in a browser that has come to rest and in one that was
started that moment and is still getting its own drawing going. Wants two free cores.
"""

import argparse
import json
import os
import shutil
import statistics
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from tests.helpers.readers import READERS  # noqa: E402  the checkout comes first

RESTS = {"a browser at rest": 1500, "a browser just started": 0}
"""Milliseconds between the start of the browser and the page."""


def main() -> None:
    """Measure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("page", type=Path, help="a piece.html")
    parser.add_argument("--times", type=int, default=9, help="how often it is opened")
    asked = parser.parse_args()
    node, browser = shutil.which("node"), shutil.which("chromium")
    assert node, "no node"
    assert browser, "no Chromium"
    print(f"{asked.page.stat().st_size / 1e6:.2f} MB")
    print(f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")
    for what, rest in RESTS.items():
        page = str(asked.page.resolve())
        command = [node, "ready.mjs", page, browser, str(asked.times), str(rest)]
        ran = subprocess.run(  # noqa: S603 - our own script
            command, cwd=READERS, check=True, capture_output=True, text=True, timeout=600
        )
        for name, times in json.loads(ran.stdout).items():
            middle = statistics.median(times)
            print(f"{what}, {name}: median {middle:.0f} ms, {min(times)} to {max(times)} ms")


if __name__ == "__main__":
    main()
