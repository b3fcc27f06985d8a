"""A number put anew changes its own characters and nothing else of the text."""

import difflib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from casewright.live.fields import LONGEST, Field, FieldError, fields, with_number
from specs.tree import scanned
from tests.helpers.small_piece import EXAMPLES

TEXTS = {path.stem: path.read_text(encoding="utf-8") for path in sorted(EXAMPLES.glob("*.yaml"))}
METRIC, INCH = TEXTS["reading-room-cabinet"], TEXTS["plan-chest"]


def of(text: str) -> dict[tuple[str | int, ...], Field]:
    return {field.path: field for field in fields(text)}


def changed_lines(before: str, after: str) -> list[tuple[str, str]]:
    """Every line that is another, beside what it was."""
    old, new = before.split("\n"), after.split("\n")
    assert len(old) == len(new)
    return [pair for pair in zip(old, new, strict=True) if pair[0] != pair[1]]


def test_a_field_knows_its_line_its_words_and_the_note_beside_it():
    field = of(METRIC)["base", "legs", "splay", "front"]
    assert (field.text, field.words, field.group, field.main) == (
        "9",
        "legs.splay.front",
        "base",
        True,
    )
    assert METRIC.splitlines()[field.line - 1].strip().startswith("splay:")
    assert field.comment == "degrees out of plumb, seen from the front, seen from the side"


def test_lengths_shares_slopes_and_lists_are_fields_and_words_are_not():
    found = of(METRIC)
    assert found["inside", "into", 1, "drawers", "heights", 2].text == "1.5 shares"
    assert found["materials", "oak", "boards", 0, "width"].text == "210"
    assert not found["materials", "oak", "boards", 0, "width"].main
    for path in (("format",), ("units",), ("drawings", "paper"), ("base", "legs", "material")):
        assert path not in found
    assert [field.text for field in fields("a: {b: 1:7, c: 3 in, d: 2031-05-17, e: .5}")] == [
        "1:7",
        "3 in",
        ".5",
    ]


@pytest.mark.parametrize("text", ["a: {b: 1", "", "- 1", "7", "[1, [2]]", "\x00", "? 3", "{"])
def test_a_text_that_is_no_spec_has_no_fields(text):
    assert fields(text) == ()


def test_one_line_differs_by_one_token_and_its_note_stays_where_it_is():
    path = ("base", "legs", "splay", "front")
    note = "     # degrees out of plumb, seen from the front, seen from the side"
    after = with_number(METRIC, path, "9", "9.5")
    assert changed_lines(METRIC, after) == [
        (f"    splay: {{front: 9, side: 4}}{note}", f"    splay: {{front: 9.5, side: 4}}{note}")
    ]


@pytest.mark.parametrize("written", ["23-5/8", "23 5/8", "5/8 in", '2-1/4"', "600 mm", "5' 6\""])
def test_a_fraction_is_written_as_the_maker_writes_it(written):
    """A foot mark and an inch mark inside a plain YAML word need no quotes."""
    path = next(field.path for field in fields(INCH) if field.main)
    before = of(INCH)[path].text
    after = with_number(INCH, path, before, f"  {written} ")
    assert of(after)[path].text == written
    assert written in after
    assert len(changed_lines(INCH, after)) == 1


@pytest.mark.parametrize(
    ("token", "written", "expected"),
    [("'19'", "5' 6\"", "'5'' 6\"'"), ('"19"', '2-1/4"', '"2-1/4\\""'), ("19", "20", "20")],
)
def test_a_number_keeps_the_quotes_that_it_had(token, written, expected):
    text = f"a: [1, {token} , 3]  # note\r\nb: 2\r\n"
    after = with_number(text, ("a", 1), "19", written)
    assert after == f"a: [1, {expected} , 3]  # note\r\nb: 2\r\n"


def test_a_mark_of_byte_order_stays():
    assert with_number("\ufeffa: 1\n", ("a",), "1", "2") == "\ufeffa: 2\n"


@pytest.mark.parametrize(
    "written",
    [
        "", "wide", "12 # no", "12\nb: 3", "[1, 2]", "{a: 1}", "&a 12", "12: 3", "!!int 4",
        "1" * (LONGEST + 1), "12, 13", "\N{RIGHT-TO-LEFT OVERRIDE}12", "12\t#",
    ],
)  # fmt: skip
def test_what_is_no_number_is_refused(written):
    with pytest.raises(FieldError, match="is not a number; write one, such as 520"):
        with_number(METRIC, ("base", "height"), "190", written)


def test_a_number_that_is_another_by_now_is_left_alone():
    with pytest.raises(FieldError, match="is '190' in the file by now; nothing was written"):
        with_number(METRIC, ("base", "height"), "200", "210")


@pytest.mark.parametrize(
    "path", [("base", "depth"), ("base",), ("base", "height", "x"), ("inside", "into", 9), (3,)]
)
def test_a_number_that_is_not_there_is_not_written(path):
    with pytest.raises(FieldError, match="is not in the file any more"):
        with_number(METRIC, path, "190", "210")


NUMBERS = st.one_of(
    st.integers(0, 9999).map(str),
    st.decimals(0, 999, places=2).map(str),
    st.builds("{}-{}/{}".format, st.integers(1, 99), st.integers(1, 63), st.integers(2, 64)),
    st.builds("{} {}".format, st.integers(1, 999), st.sampled_from(["mm", "in", "shares"])),
    st.builds("{} deg".format, st.integers(0, 180)),
)


@settings(max_examples=15)
@given(st.data())
def test_any_number_of_any_example_can_be_put_anew_and_nothing_else_moves(data):
    text = TEXTS[data.draw(st.sampled_from(sorted(TEXTS)))]
    field = data.draw(st.sampled_from(fields(text)))
    written = data.draw(NUMBERS)
    after = with_number(text, field.path, field.text, written)
    assert len(changed_lines(text, after)) == (written != field.text)
    assert of(after)[field.path].text == written
    assert with_number(after, field.path, written, field.text) == text
    gone = [part for part in difflib.ndiff(text.split(), after.split()) if part[0] == "-"]
    assert len(gone) <= len(field.text.split())
    before, now = scanned(text), scanned(after)
    assert set(before.marks.spans) == set(now.marks.spans)
