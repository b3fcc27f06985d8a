"""Pages by the typesetter: a layout that is shipped, data as JSON, pictures as SVG, no network."""

import json
from collections.abc import Mapping
from importlib.resources import as_file, files
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from exporters.stamp import date
from ground.errors import BuildError

LAYOUTS, FONTS = "layouts", "fonts"


def pdf(layout: str, content: Mapping[str, Any], pictures: Mapping[str, str]) -> bytes:
    """Set the pages of a shipped layout; ``pictures`` are SVG by the names that the data says.

    Raises:
        BuildError: the typesetter cannot use what it is given.
    """
    import typst

    with TemporaryDirectory() as folder, as_file(files("exporters")) as shipped:
        room = Path(folder)
        layouts = Path(shipped) / LAYOUTS
        for source in layouts.glob("*.typ"):
            (room / source.name).write_bytes(source.read_bytes())
        text = json.dumps(content, ensure_ascii=False, allow_nan=False)
        (room / "data.json").write_text(text, encoding="utf-8")
        for name, picture in pictures.items():
            (room / name).write_text(picture, encoding="utf-8")
        try:
            return bytes(
                typst.compile(
                    str(room / f"{layout}.typ"),
                    root=str(room),
                    font_paths=[str(Path(shipped) / FONTS)],
                    ignore_system_fonts=True,
                    timestamp=int(date().timestamp()),
                    format="pdf",
                )
            )
        except Exception as error:  # the library raises its own kinds, and bare ones
            reason = " ".join(str(error).split())
            raise BuildError(layout, "pages", reason) from error
