"""Nothing on a sheet meets anything else: every part of every example, and generated specs."""

import os
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, Phase, given, settings

from drawings.part_sheet import part_sheet
from drawings.records import Issue, Sheet
from drawings.standing import standing
from models.parts.assembly import Assembly
from models.parts.views import ISOMETRIC_RIGHT, ISOMETRIC_UP, LineView
from models.setting_out.piece import set_out
from models.setting_out.trouble import SettingOutError
from specs.reading import read
from specs.spec import Spec
from tests.helpers.examples import EXAMPLES, piece, spec
from tests.helpers.flat_views import cube_picture, flat_views
from tests.helpers.sheets import collisions, crossed
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
        assert collisions(sheet) == [], sheet.name
        assert crossed(sheet) == [], sheet.name


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
    for sheet in sheets(asked, assembly, FULLEST):
        assert collisions(sheet) == [], sheet.name
        assert crossed(sheet) == [], sheet.name
