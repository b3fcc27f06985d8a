"""The saw set-ups of one part for the wall beside the saw, as SVG 1.1: each with its picture.

The pictures are those of the plan book; beside each stands what is set and what to measure.
"""

from collections.abc import Iterable, Iterator
from html import escape

from exporters.book.sawing import checks, faces, said_of_all, settings
from exporters.book.set_up_pictures import ROOM, picture
from exporters.names import plain
from exporters.set_ups_table import said
from exporters.svg_kit import number
from ground.quantities import Units
from planning.saw.records import SetUp
from planning.saw.sections import Picture

EDGE, GUTTER = 8.0, 6.0
"""White around the sheet and between picture and words (mm)."""

WORDS = 112.0
"""How wide the words are (mm)."""

LETTERS, LINE, HEAD = 3.2, 4.4, 3.8
"""Font size, from line to line, font size of the head of a set-up (mm)."""

MEAN = 0.5
"""A sign of the lettering is about this wide, in its font size."""

KEY = 18.0
"""How far the words stand behind their key (mm)."""

BETWEEN = 7.0
"""From one set-up to the next (mm)."""

STAR = "A face with a star is the squared blank's: the finished part has it no more."

INK, SOFT = "#1f1f1f", "#6b6660"

Row = tuple[str, str]


def pictures_svg(
    found: Iterable[Picture], set_ups: Iterable[SetUp], title: str, units: Units
) -> bytes:
    """All set-ups of one part on one long sheet."""
    by_order = {one.order: one for one in set_ups}
    always = said_of_all(by_order.values())
    wide = 2 * EDGE + ROOM[0] + GUTTER + WORDS
    body: list[str] = []
    top = EDGE + HEAD * 2
    for line in wrapped(f"{' '.join(always)} {STAR}".strip(), wide - 2 * EDGE):
        body.append(lettered((EDGE, top), line, colour=SOFT))
        top += LINE
    top += LINE
    for shown in found:
        one = by_order[shown.order]
        drawn, high = card(shown, one, (units, always), top)
        body.append(f'<g id="{escape(one.part, quote=True)}-{one.order}">{"".join(drawn)}</g>')
        top += high + BETWEEN
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(wide)}mm"'
            f' height="{number(top)}mm" viewBox="0 0 {number(wide)} {number(top)}"'
            f' font-family="sans-serif" font-size="{LETTERS}">'
        ),
        f"<title>{escape(title)}</title>",
        lettered((EDGE, EDGE + HEAD), plain(title), size=HEAD * 1.2, bold="bold"),
        *body,
        "</svg>",
    ]
    return ("\n".join(lines) + "\n").encode()


def card(
    shown: Picture, one: SetUp, known: tuple[Units, tuple[str, ...]], top: float
) -> tuple[list[str], float]:
    """One set-up, the picture left of the words; how high it is (mm)."""
    units, always = known
    drawing = picture(shown, one, units)
    tall = float(drawing.partition(' height="')[2].partition("mm")[0])
    # inside another picture a length is in that picture's units, mm here
    inside = drawing.replace('mm" height=', '" height=', 1).replace('mm" viewBox=', '" viewBox=', 1)
    left = EDGE + ROOM[0] + GUTTER
    head = f"{one.order}. {said(one.does, units)}: {one.machine.value}"
    drawn = [
        inside.replace("<svg ", f'<svg x="{EDGE}" y="{number(top)}" ', 1),
        lettered((left, top + HEAD), plain(head), size=HEAD, bold="bold"),
    ]
    low = top + HEAD + LINE * 1.3
    for key, words in rows(one, units, always):
        drawn.append(lettered((left, low), key, colour=SOFT))
        for line in wrapped(words, WORDS - KEY):
            drawn.append(lettered((left + KEY, low), line))
            low += LINE
    return drawn, max(tall, low - top)


def rows(one: SetUp, units: Units, always: tuple[str, ...]) -> Iterator[Row]:
    """The words of a set-up: what is set, the first cut, what to measure, what to mind.

    What is to be minded ``always`` stands at the head of the sheet.
    """
    yield from ((key, plain(value)) for key, value in settings(one, units) if value)
    if one.first_cut:
        yield "first cut", plain(faces(said(one.first_cut, units)))
    measured = "; ".join(f"{what} {value}" for what, value in checks(one.expect, units))
    if measured:
        yield "measure", plain(measured)
    if one.note:
        yield "note", plain(faces(said(one.note, units)))
    mind = " ".join(faces(said(text, units)) for text in one.cautions if text not in always)
    if mind:
        yield "mind", plain(mind)


def wrapped(text: str, wide: float) -> Iterator[str]:
    """Words in lines that are no wider than ``wide`` (mm)."""
    most = int(wide / (LETTERS * MEAN))
    line = ""
    for word in text.split():
        if line and len(line) + 1 + len(word) > most:
            yield line
            line = word
        else:
            line = f"{line} {word}".strip()
    if line:
        yield line


def lettered(
    at: tuple[float, float], text: str, *, size: float = LETTERS, bold: str = "", colour: str = INK
) -> str:
    """One line of text."""
    weight = f' font-weight="{bold}"' if bold else ""
    return (
        f'<text x="{number(at[0])}" y="{number(at[1])}" font-size="{number(size)}"'
        f' fill="{colour}"{weight}>{escape(text)}</text>'
    )
