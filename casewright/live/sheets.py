"""The drawings of the live view, one by one; only the worker gets here."""

import base64
from collections import OrderedDict
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from casewright import kernel
from casewright.building import sheet_jobs
from casewright.checking import Checked
from casewright.selection import OF_PART
from casewright.shop_drawings import piece_sheet, sheet_of, shown_on
from casewright.works import Works
from ground.errors import BuildError
from models.parts.assembly import Assembly
from models.parts.part import Part
from specs.spec import Spec

if TYPE_CHECKING:
    from models.solids.records import Made

PIECES_OF_LATE = 2
"""Pieces whose drawings may be asked for: the one on the page, and the one that overtakes it."""

_works: OrderedDict[int, Works] = OrderedDict()


def sheet_svg(number: int, spec: Spec, assembly: Assembly, path: str) -> bytes:
    """One drawing of piece ``number`` as SVG.

    Raises:
        BuildError: the kernel cannot draw it.
    """
    from exporters.sheet_svg import sheet_svg as drawn

    works = works_of(number, spec, assembly)
    jobs = sheet_jobs(assembly)
    if path in jobs:
        shown = shown_on(assembly, path)
        value = jobs[path](assembly, all_made(works), *((shown,) if shown else ()))
        return with_letters(drawn(piece_sheet(works, path, value)))
    part = part_at(works, path)
    if works.whole is None:
        works.whole = kernel.draw_whole(assembly, all_made(works))
    return with_letters(drawn(sheet_of(works, part, made_of(works, part))))


def with_letters(picture: str) -> bytes:
    """A picture that brings its letters along: one in a page may not fetch any."""
    head, end, rest = picture.partition(">")
    return f"{head}{end}{letters()}{rest}".encode()


@cache
def letters() -> str:
    """The style that holds the drawings' font."""
    from exporters.svg_kit import FONT

    font = files("exporters").joinpath("fonts").joinpath(f"{FONT}-Regular.otf").read_bytes()
    data = base64.b64encode(font).decode("ascii")
    return f"<style>@font-face{{font-family:{FONT};src:url(data:font/otf;base64,{data})}}</style>"


def works_of(number: int, spec: Spec, assembly: Assembly) -> Works:
    """A piece under way from which nothing is written."""
    from exporters.names import file_names
    from exporters.package import Stage
    from planning.cutting.records import CutPlan

    if number not in _works:
        _works[number] = Works(
            checked=Checked(spec=spec, assembly=assembly, findings=()),
            stage=Stage(Path()),
            wanted=frozenset(),
            names=file_names([(part.label, part.name) for part in assembly.parts if part.made]),
            looks={},
            cuts=CutPlan(stock=(), bounds=(), purchases=(), unmade=(), findings=()),
        )
        while len(_works) > PIECES_OF_LATE:
            _works.popitem(last=False)
    return _works[number]


def part_at(works: Works, path: str) -> Part:
    """The part whose drawing is at ``path``.

    Raises:
        BuildError: there is none.
    """
    for label, name in works.names.items():
        if OF_PART["drawing"].format(name=name) == path:
            return works.assembly.part(label)
    raise BuildError(works.assembly.name, path, "there is no such drawing")


def made_of(works: Works, part: Part) -> "Made":
    """A part with its views, made once a piece.

    Raises:
        BuildError: the kernel cannot make it.
    """
    if part.label not in works.made:
        works.made[part.label] = kernel.make_part(part, (0.0, 0.0, 0.0), None)
    return works.made[part.label]


def all_made(works: Works) -> "dict[str, Made]":
    """Every part that can be made."""
    for part in works.assembly.parts:
        try:
            made_of(works, part)
        except BuildError:
            continue  # its own sheet says so; the others are drawn without it
    return works.made
