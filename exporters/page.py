"""piece.html: the piece to turn and open in a browser, in one file that asks for nothing.

The record and the mesh are carried gzipped in base64, so nothing from the spec meets markup; the
rest of the page is the same for every piece.
"""

import base64
import gzip
import hashlib
import html
import json
from dataclasses import dataclass
from importlib.resources import files
from typing import Any

from exporters.names import plain

PACKED = "viewer"
"""The folder beside this module that holds what ``viewer/`` is built into."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Viewer:
    """The viewer as it was built: its script and its style sheet."""

    script: str
    style: str


def viewer() -> Viewer | None:
    """The viewer, None where it was not built."""
    script, style = packed_file("viewer.js"), packed_file("viewer.css")
    if script is None or style is None:
        return None
    return Viewer(script=script.decode(), style=style.decode())


def packed_file(name: str) -> bytes | None:
    """One file of the viewer as it was built, None where it was not."""
    file = files("exporters").joinpath(PACKED).joinpath(name)
    return file.read_bytes() if file.is_file() else None


def page(built: Viewer, record: dict[str, Any], glb: bytes, *, still: str) -> bytes:
    """The whole page; ``still`` is the line drawing for browsers that draw nothing else."""
    # a script ends where its text says so, whatever it means there
    script = built.script.replace("</script", "<\\/script").replace("<!--", "<\\!--")
    policy = (
        f"default-src 'none'; script-src '{source_hash(script)}';"
        f" style-src '{source_hash(built.style)}'; img-src data: blob:; base-uri 'none';"
        " form-action 'none'"
    )
    text = json.dumps(record, ensure_ascii=False, separators=(",", ":"))
    name = html.escape(plain(str(record["piece"])))
    parts = (
        f'<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>{name}</title>\n',
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n',
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n',
        f"<style>{built.style}</style></head>\n<body>{skeleton(name, still)}\n",
        f'<script type="text/plain" id="record">{packed(text.encode())}</script>\n',
        f'<script type="text/plain" id="glb">{packed(glb)}</script>\n',
        f"<script>{script}</script>\n</body></html>\n",
    )
    return "".join(parts).encode()


def skeleton(name: str, still: str) -> str:
    """What stands on the page before the script runs; ``name`` is escaped already."""
    return (
        f'<header id="head"><h1>{name}</h1></header>'
        f'<main id="picture"><figure id="still">{still}<figcaption id="why"></figcaption></figure>'
        '<div id="pins" class="bench-only"></div></main><aside id="panel"></aside>'
        '<div id="said" role="status" aria-live="polite"></div>'
        "<noscript><p>Without scripts this page is a still drawing.</p></noscript>"
    )


def packed(content: bytes) -> str:
    """Gzipped, in base64: the same bytes for the same content."""
    return base64.b64encode(gzip.compress(content, 9, mtime=0)).decode("ascii")


def source_hash(source: str) -> str:
    """A script or a style sheet as a content security policy names it."""
    total = hashlib.sha256(source.encode()).digest()
    return f"sha256-{base64.b64encode(total).decode('ascii')}"
