import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ground.quantities import Share
from specs.base import StraightLegs
from specs.reading import read
from specs.starter import starter


def test_the_starter_is_a_whole_small_piece():
    spec = read(starter("Hall stand"), "new.yaml").spec
    assert spec.name == "Hall stand"
    assert isinstance(spec.base, StraightLegs)
    drawer, shelf = spec.inside.pieces
    assert (drawer.size, shelf.size, shelf.open) == (140, Share(1), True)


def test_a_runner_fits_behind_the_starter_s_front():
    """360 deep, back 10 + 6: 344 to the back panel; 20 + 3 + 300 = 323 leaves 21."""
    spec = read(starter(""), "new.yaml").spec
    assert 360 - 10 - 6 - (20 + 3 + spec.hardware["runner"].length) == 21  # type: ignore[union-attr, operator]


def test_every_key_of_it_is_explained_where_it_first_stands():
    explained: set[str] = set()
    for line in starter("").splitlines():
        text, sign, words = line.partition("#")
        keys = re.findall(r"([\w-]+):(?= |$)", text)
        if sign:
            assert words.strip()
            explained.update(keys)
        assert set(keys) <= explained | {"ash", "case-panel", "runner"}, line


@pytest.mark.parametrize("name", ["", "   ", "\x00\n"])
def test_without_a_name_it_keeps_its_own(name):
    assert read(starter(name), "new.yaml").spec.name == "Night stand"


@given(st.text(min_size=1))
def test_any_name_is_written_so_that_it_reads_back(name):
    printable = "".join(sign if sign.isprintable() else " " for sign in name).strip()
    expected = printable[:120].strip() or "Night stand"
    assert read(starter(name), "new.yaml").spec.name == expected
