"""Pictures of the saw set-ups of one part, as SVG 1.1: one below the other, mm at half size."""

from collections.abc import Iterable
from html import escape

from planning.saw.pictures import WINDOW, Picture, Point, Role

SCALE = 0.5
"""Paper over wood."""

WIDE, HIGH = 2 * WINDOW * SCALE + 20.0, 150.0
"""One picture's room on the paper (mm)."""

LETTERS = 3.5
"""Height of lettering (mm): ISO 3098 as remembered, from memory."""

FILLS = {
    Role.TABLE: "#d9d9d9",
    Role.FENCE: "#bfbfbf",
    Role.STOP: "#bfbfbf",
    Role.WEDGE: "#f2e3b3",
    Role.WORKPIECE: "#e3c08f",
    Role.OFFCUT: "#f7ead6",
    Role.BLADE: "#5b6770",
    Role.CUTTER: "#5b6770",
}
"""What each thing is filled with."""


def pictures_svg(found: Iterable[Picture], title: str) -> bytes:
    """All pictures of one part on one long sheet."""
    shown = list(found)
    high = HIGH * max(len(shown), 1)
    sheet = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDE:.0f}mm" height="{high:.0f}mm"'
        f' viewBox="0 0 {WIDE:.0f} {high:.0f}" font-family="sans-serif" font-size="{LETTERS}">'
    )
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        sheet,
        f"<title>{escape(title)}</title>",
    ]
    for place, picture in enumerate(shown):
        lines += drawn(picture, place * HIGH)
    return ("\n".join([*lines, "</svg>"]) + "\n").encode()


def drawn(picture: Picture, top: float) -> list[str]:
    """One picture, its window in the middle of its room."""
    left = picture.labels[0].at[0] if picture.labels else -WINDOW
    base = top + HIGH - 20.0

    def at(point: Point) -> str:
        return f"{(point[0] - left) * SCALE + 10.0:.2f},{base - point[1] * SCALE:.2f}"

    lines = [f'<g id="{escape(picture.part, quote=True)}-{picture.order}">']
    for shape in picture.shapes:
        points = " ".join(at(point) for point in shape.points)
        lines.append(
            f'<polygon class="{shape.role.value}" points="{points}" fill="{FILLS[shape.role]}"'
            ' stroke="#222222" stroke-width="0.35"/>'
        )
    for label in picture.labels:
        x, y = at(label.at).split(",")
        lines.append(f'<text x="{x}" y="{y}">{escape(label.text)}</text>')
    return [*lines, "</g>"]
