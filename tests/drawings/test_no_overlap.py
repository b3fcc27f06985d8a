"""Nothing on a sheet meets anything else: every part of every example, and generated specs."""

import os
from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from drawings.apart_pictures import Apart
from drawings.assembly_sheet import assembly_sheet
from drawings.exploded_sheet import exploded_sheet
from drawings.exploding import away
from drawings.openings_sheet import openings_sheet
from drawings.part_sheet import part_sheet
from drawings.records import Issue, Note, Sheet
from drawings.standing import standing
from models.parts.assembly import Assembly
from models.parts.views import ISOMETRIC_RIGHT, ISOMETRIC_UP, LineView
from models.setting_out.piece import set_out
from models.setting_out.trouble import SettingOutError
from specs.reading import read
from specs.spec import Spec
from tests.helpers.examples import DEMO, EXAMPLES, piece, spec
from tests.helpers.flat_views import (
    cube_picture,
    exploded_picture,
    flat_views,
    groups_sheets,
    openings_front,
    piece_views,
)
from tests.helpers.sheets import arrows, collisions, crossed, marks_met, texts
from tests.helpers.specs_strategy import spec_texts

FULLEST = 6
"""Parts of a generated piece that are worth drawing: those with the most to say."""


def sheets(asked: Spec, assembly: Assembly, some: slice = slice(None)) -> list[Sheet]:
    """The sheets of parts, the fullest first, with views that need no kernel, in their place."""
    made = sorted((p for p in assembly.parts if p.made), key=lambda part: -len(part.features))
    whole = LineView(
        name="whole", right=ISOMETRIC_RIGHT, up=ISOMETRIC_UP, visible=cube_picture(assembly)
    )
    return [
        part_sheet(
            part,
            flat_views(part),
            units=asked.units,
            standard=asked.drawings.standard,
            paper=asked.drawings.paper,
            piece=replace(
                Issue.of(asked), quantity=1, standing=standing(assembly, whole, part.label)
            ),
        )
        for part in made[some]
    ]


@pytest.mark.parametrize("name", EXAMPLES)
def test_nothing_meets_on_the_sheets_of_an_example(name: str) -> None:
    for sheet in sheets(spec(name), piece(name)):
        assert_clear(sheet)


def assert_clear(sheet: Sheet) -> None:
    """No text on a text, a line, an arrow head or a symbol; no arrow head on another."""
    assert collisions(sheet) == [], sheet.name
    assert crossed(sheet) == [], sheet.name
    assert marks_met(sheet) == [], sheet.name


def of_piece(asked: Spec, assembly: Assembly, some: slice = slice(None)) -> list[Sheet]:
    """The assembly, the exploded views and the openings, with views that need no kernel."""
    how: Any = {
        "units": asked.units,
        "standard": asked.drawings.standard,
        "paper": asked.drawings.paper,
        "piece": replace(Issue.of(asked), sheet=1, sheets=79),
    }

    def exploded() -> Sheet:
        moves = away(assembly)
        apart = Apart(view=exploded_picture(assembly, moves), moves=moves)
        return exploded_sheet(assembly, apart, **how)

    drawings: tuple[Callable[[], Iterable[Sheet]], ...] = (
        lambda: [assembly_sheet(piece_views(assembly), openings=assembly.openings, **how)],
        lambda: [exploded()],
        lambda: [openings_sheet(assembly, openings_front(assembly), **how)],
        lambda: groups_sheets(asked, assembly),
    )
    return [sheet for draw in drawings[some] for sheet in draw()]


@pytest.mark.parametrize("name", EXAMPLES)
def test_nothing_meets_on_the_sheets_of_the_whole_piece(name: str) -> None:
    for sheet in of_piece(spec(name), piece(name)):
        assert_clear(sheet)


def test_a_text_on_a_line_or_an_arrow_is_found() -> None:
    """The tests above can fail: a note moved onto a dimension is seen."""
    sheet = of_piece(spec(DEMO), piece(DEMO))[0]
    number = next(t for t in texts(sheet) if t.text == "1680")
    moved = Note(text=replace(number, text="here"))
    assert ("1680", "here") in collisions(replace(sheet, notes=(*sheet.notes, moved)))
    ((_, (low, _)), *_) = arrows(sheet)
    on_arrow = Note(text=replace(number, text="there", at=low, turned=0.0))
    spoilt = replace(sheet, notes=(*sheet.notes, on_arrow))
    assert any(text == "there" for _, text in marks_met(spoilt))
    assert "there" in crossed(spoilt)


DEEP = os.environ.get("HYPOTHESIS_PROFILE") == "deep"
"""The ordinary run draws one of the fullest parts of each piece and one sheet of the whole."""


@settings(
    max_examples=200,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@pytest.mark.slow
@pytest.mark.timeout(1200)  # nine minutes for all of them on a machine four times too busy
@given(spec_texts(), st.integers(0, FULLEST - 1), st.integers(0, 3))
def test_nothing_meets_on_the_sheets_of_any_piece(text: str, part: int, whole: int) -> None:
    asked = read(text, "generated.yaml").spec
    try:
        assembly = set_out(asked)
    except SettingOutError:
        return
    of_parts, of_whole = slice(FULLEST), slice(4)
    if not DEEP:
        of_parts, of_whole = slice(part, part + 1), slice(whole, whole + 1)
    for sheet in (*sheets(asked, assembly, of_parts), *of_piece(asked, assembly, of_whole)):
        assert_clear(sheet)
