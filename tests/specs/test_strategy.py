import json

from hypothesis import given

from specs.reading import read
from tests.helpers.specs_strategy import spec_texts, spec_trees, yaml_of


@given(spec_texts())
def test_every_spec_that_the_strategy_draws_is_accepted(text):
    read(text, "drawn.yaml")


@given(spec_trees())
def test_reading_keeps_every_word_that_was_drawn(tree):
    spec = read(yaml_of(tree), "drawn.yaml").spec
    assert spec.name == tree["name"]
    assert spec.base.kind == tree["base"]["kind"]
    assert [spec.case.corners.top.kind, spec.case.corners.bottom.kind] == [
        corner if isinstance(corner, str) else corner["kind"]
        for corner in tree["case"]["corners"].values()
    ]
    assert json.dumps(tree).count('"drawers"') == repr(spec).count(" drawers=Drawers(")
