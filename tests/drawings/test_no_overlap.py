"""Nothing on a sheet meets anything else: every part of every example, and generated specs."""

import os
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings

from drawings.assembly_sheet import assembly_sheet
from drawings.exploded_sheet import Apart, exploded_sheet
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
    openings_front,
    piece_views,
)
from tests.helpers.sheets import arrows, collisions, crossed, marks_met, texts
from tests.helpers.specs_strategy import spec_texts

FULLEST = 6
"""Of a generated piece so many parts are drawn, those with the most to say."""


def sheets(asked: Spec, assembly: Assembly, most: int | None = None) -> list[Sheet]:
    """The sheets of the fullest parts, with views that need no kernel, in their place."""
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
        for part in made[:most]
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


def of_piece(asked: Spec, assembly: Assembly) -> list[Sheet]:
    """The assembly, the exploded view and the openings, with views that need no kernel."""
    views = piece_views(assembly)
    issue = replace(Issue.of(asked), sheet=1, sheets=79)
    moves = away(assembly)
    how: Any = {
        "units": asked.units,
        "standard": asked.drawings.standard,
        "paper": asked.drawings.paper,
        "piece": issue,
    }
    return [
        assembly_sheet(views, openings=assembly.openings, **how),
        exploded_sheet(assembly, Apart(view=exploded_picture(assembly, moves), moves=moves), **how),
        openings_sheet(assembly, openings_front(assembly), **how),
    ]


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


GENERATED = 200 if os.environ.get("HYPOTHESIS_PROFILE") == "deep" else 40
"""Specs drawn: six sheets each take their time, so the ordinary run draws fewer."""


@settings(
    max_examples=GENERATED,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@pytest.mark.slow
@pytest.mark.timeout(1200)  # some 1200 sheets: nine minutes on a machine four times too busy
@given(spec_texts())
def test_nothing_meets_on_the_sheets_of_any_piece(text: str) -> None:
    asked = read(text, "generated.yaml").spec
    try:
        assembly = set_out(asked)
    except SettingOutError:
        return
    for sheet in (*sheets(asked, assembly, FULLEST), *of_piece(asked, assembly)):
        assert_clear(sheet)
