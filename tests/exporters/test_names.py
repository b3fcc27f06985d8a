"""Names from the spec never reach a path, a table, a drawing or markup unescaped."""

import re

import pytest
from ezdxf.lldxf.encoding import decode_dxf_unicode
from ezdxf.lldxf.validator import is_valid_layer_name
from ezdxf.tools.text import plain_mtext, plain_text
from hypothesis import given
from hypothesis import strategies as st

from exporters.names import (
    LONGEST,
    RESERVED,
    csv_cell,
    dxf_layer,
    dxf_mtext,
    dxf_text,
    file_names,
    file_stem,
    latin,
    plain,
)

AWKWARD = st.text(st.sampled_from("aZ09 .-%^\\{}U+00E9M;P=@'\"/:*?<>|`\t\n漢ßй")) | st.text()


def test_a_file_is_named_by_label_and_name():
    assert file_names([("D2", "drawer side, left")]) == {"D2": "D2-drawer-side-left"}


@pytest.mark.parametrize(
    ("text", "stem"),
    [
        ("Tür, links", "Tur-links"),
        ("Schrank groß", "Schrank-gross"),
        ("Ærø skuffe", "Aero-skuffe"),
        ("maker's shelf", "makers-shelf"),
        ("maker\u2019s shelf", "makers-shelf"),
        ("½ round", "1-2-round"),
        ("полка верхняя", "polka-verkhnyaya"),
        ("ράφι", "rafi"),
        ("棚", "u68da"),
        ("../../etc/passwd", "etc-passwd"),
        ("a\\b:c*d", "a-b-c-d"),
        (".hidden.", "hidden"),
        ("CON", "part-CON"),
        ("com1.x", "part-com1.x"),
        ("COM¹", "part-COM1"),
        ("---", "part"),
        ("", "part"),
    ],
)
def test_a_stem_is_plain_ascii(text, stem):
    assert file_stem(text) == stem


def test_names_differ_when_case_is_ignored():
    names = file_names([("a", "side"), ("A", "Side"), ("á", "síde")])
    assert names == {"a": "a-side", "A": "A-Side-2", "á": "a-side-3"}


def test_long_names_stay_different_within_the_limit():
    long = "x" * 80
    names = file_names([(str(n), long) for n in (1, 2)] + [("1", long + "y"), ("1.", long)])
    assert all(len(name) <= LONGEST for name in names.values())
    assert len({name.casefold() for name in names.values()}) == len(names)


@given(st.lists(st.tuples(AWKWARD, AWKWARD), max_size=8, unique_by=lambda pair: pair[0]))
def test_any_names_hold_the_rule(pairs):
    names = file_names(pairs)
    assert len({name.casefold() for name in names.values()}) == len(pairs)
    for name in names.values():
        assert re.fullmatch(r"[A-Za-z0-9]([A-Za-z0-9.-]{0,58}[A-Za-z0-9])?", name)
        assert name.split(".")[0].casefold() not in RESERVED


@given(AWKWARD)
def test_latin_is_ascii(text):
    assert latin(text).isascii()


@given(AWKWARD)
def test_plain_text_is_one_visible_line(text):
    assert plain(text).isprintable()
    assert plain(plain(text)) == plain(text)


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t=", " \r\n@", "\uff1d"])
def test_no_cell_starts_a_formula(start):
    assert csv_cell(start + "SUM(A1)").startswith("'")


def test_a_harmless_cell_stays_as_it_is():
    assert csv_cell("Tür 1/2, links") == "Tür 1/2, links"


@given(AWKWARD)
def test_a_line_of_text_is_read_as_it_was_written(text):
    assert plain_text(decode_dxf_unicode(dxf_text(text))) == plain(text).replace("^", "\u02c6")


@given(AWKWARD)
def test_a_line_of_mtext_is_read_as_it_was_written(text):
    assert plain_mtext(decode_dxf_unicode(dxf_mtext(text))) == plain(text).replace("^", "\u02c6")


@given(AWKWARD)
def test_a_layer_has_a_valid_name(text):
    name = dxf_layer(text)
    assert is_valid_layer_name(name)
    assert not re.search(r"[%^{}\\|,]", name)
    assert 0 < len(name) <= 255


def test_a_layer_keeps_its_plain_words():
    assert dxf_layer("HOLE-5.0-D12.0") == "HOLE-5.0-D12.0"
    assert dxf_layer("by hand / <mitre>") == "by hand -mitre"
