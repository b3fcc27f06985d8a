"""What the text itself may not be: each complaint with its full wording and place."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from ground.errors import SpecError
from specs.reading import read
from specs.starter import starter
from specs.tree import scanned


def _told(text):
    with pytest.raises(SpecError) as refusal:
        read(text, "f.yaml")
    return refusal.value.lines()


_UNREADABLE = "check colons, brackets, quotes and indentation"


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("", "1:1: the spec: is empty; 'casewright new' writes one to start from"),
        ("# only\n# words\n", "1:1: the spec: is empty; 'casewright new' writes one to start from"),
        ("---\n", "1:1: the spec: is empty; 'casewright new' writes one to start from"),
        (
            "[" * 5000,
            "1:41: [1]: more than 40 levels deep; close the brackets or indent less",
        ),
        (
            "base: " + "{a: " * 5000,
            "1:163: base: more than 40 levels deep; close the brackets or indent less",
        ),
        ("a: &x 1\n", "1:4: a: the anchor '&x' is not used in a spec; leave it out"),
        ("a: !!int 1\n", "1:4: a: the tag '!!int' is not used in a spec; leave it out"),
        ("a: !own 1\n", "1:4: a: the tag '!own' is not used in a spec; leave it out"),
        ("a: 1\n---\nb: 2\n", "2:1: the spec: a second document begins; keep one piece a file"),
        (
            "%YAML 1.1\n---\na: 1\n",
            "2:1: the spec: a % directive stands before it; leave it out, a spec is YAML 1.2",
        ),
        (
            "a:\n\tb: 1\n",
            "2:1: the spec: a tab stands where the indentation belongs; indent with spaces",
        ),
        ("a: \x07\n", "1:4: the spec: the character U+0007 cannot stand in a spec; delete it"),
        (
            "a: 1\nb: \ud800\n",
            "2:4: the spec: the character U+D800 cannot stand in a spec; delete it",
        ),
        (
            "a: {b: 1\n",
            (
                "2:1: the spec: is no YAML that can be read "
                f"(expected ',' or '}}', but got '<stream end>'); {_UNREADABLE}"
            ),
        ),
        (
            "a: 1\n b: 2\n",
            (
                "2:3: the spec: is no YAML that can be read "
                f"(mapping values are not allowed here); {_UNREADABLE}"
            ),
        ),
        (
            "a: 'b\n",
            (
                "2:1: the spec: is no YAML that can be read "
                f"(found unexpected end of stream); {_UNREADABLE}"
            ),
        ),
        (
            "? [a]\n: 1\n",
            "1:3: the spec: a list or group stands where a key belongs; write a word",
        ),
        (": 1\n", "1:1: the spec: a key is missing before the colon"),
        (
            "a: [" + "1, " * 30_000 + "]\n",
            "1:59999: a[19999]: more than 20000 values; a spec describes one piece of furniture",
        ),
        (
            "- 1\n",
            (
                "1:1: the spec: a list stands where a group of keys belongs; its keys: "
                "format, name, units, drawings, materials, base, case, inside"
            ),
        ),
        (
            "tall\n",
            (
                "1:1: the spec: 'tall' stands where a group of keys belongs; its keys: "
                "format, name, units, drawings, materials, base, case, inside"
            ),
        ),
    ],
)
@pytest.mark.timeout(20)
def test_text_that_is_no_spec_is_refused_in_one_line(text, line):
    assert _told(text) == [f"f.yaml:{line}"]


def test_anchors_aliases_merge_keys_and_tags_are_all_told_at_once():
    text = "a: &x {b: 1}\nc: *x\nd:\n  <<: *x\ne: !!python/object:os.system f\n"
    assert _told(text) == [
        "f.yaml:1:4: a: the anchor '&x' is not used in a spec; leave it out",
        "f.yaml:2:4: c: the alias '*x' is not used in a spec; write it out",
        "f.yaml:4:3: d: merge keys are not used in a spec; write the keys out",
        "f.yaml:4:7: d.<<: the alias '*x' is not used in a spec; write it out",
        "f.yaml:5:4: e: the tag '!!python/object:os.system' is not used in a spec; leave it out",
    ]


def test_an_alias_bomb_is_refused_before_anything_is_built():
    rows = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    rows += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 30)]
    lines = _told("\n".join(rows))
    assert len(lines) == 30 + 29 * 9
    assert max(map(len, lines)) < 120


def test_a_key_that_stands_twice_is_told_beside_the_other_errors():
    text = starter("A").replace("units: mm", "units: mm\nunits: in\nheyght: 3", 1)
    assert _told(text) == [
        "f.yaml:8:1: units: the key 'units' stands twice, first in line 7; keep one",
        (
            "f.yaml:9:1: heyght: 'heyght' is not a key here; the keys are format, name, units, "
            "currency, drawings, shop, materials, hardware, base, case, inside, loads and 2 more"
        ),
    ]


def test_what_stands_under_a_second_key_is_still_looked_at():
    assert _told("a: 1\na: [&x 2]\n") == [
        "f.yaml:2:1: a: the key 'a' stands twice, first in line 1; keep one",
        "f.yaml:2:5: a[1]: the anchor '&x' is not used in a spec; leave it out",
    ]


def test_every_scalar_is_text_and_keeps_its_place():
    text = "a: 1:7\nb: 012\nc: [1_000, .nan, true, ~, 2-1/4\"]\nd: '3/4 in'\ne:\n"
    found = scanned(text)
    assert found.problems == ()
    assert found.root == {
        "a": "1:7",
        "b": "012",
        "c": ["1_000", ".nan", "true", "~", '2-1/4"'],
        "d": "3/4 in",
        "e": "",
    }
    assert found.marks.place(("a",)) == (1, 4)
    assert found.marks.key(("a",)) == (1, 1)
    assert found.marks.place(("c", 4)) == (3, 27)
    assert found.marks.place(("e",)) == (5, 1)  # nothing is written: the key's own place
    assert found.marks.place(("e", "x", 3)) == (5, 1)
    assert found.marks.place(("z",)) == (1, 1)


def test_names_outside_ascii_are_kept_and_counted_by_character():
    found = scanned("é: {木: 1, 棚: x}\n")
    assert found.root == {"é": {"木": "1", "棚": "x"}}
    assert found.marks.place(("é", "棚")) == (1, 14)


def _accepted_or_refused(text):
    try:
        read(text, "f.yaml")
    except SpecError as error:
        assert error.problems  # noqa: PT017 - either outcome is right
        lines = error.lines()
        assert all(line.startswith("f.yaml:") and line.isprintable() for line in lines)
        places = [(problem.line, problem.column) for problem in error.problems]
        assert places == sorted(places)


@given(st.text())
@example("\ufeff")
@example("%")
@example("%YAML 9\n---\n")
@example("%TAG ! tag:x,1:\n---\n!a b")
@example('"\\U00110000"')
@example("\x85\u2028a: 1")
@example("a: |9\n b")
@example("? ? ? a")
def test_any_text_is_read_or_refused(text):
    _accepted_or_refused(text)


@given(
    st.lists(st.sampled_from([*"{}[]:,-?&*!|>'\"%@`#~ \n", "  ", ": ", "- ", "a", "<<", "---\n"]))
)
def test_any_heap_of_yaml_signs_is_read_or_refused(signs):
    _accepted_or_refused("".join(signs))


@given(st.data())
def test_a_good_spec_with_a_piece_swapped_for_anything_is_read_or_refused(data):
    good = starter("Stand")
    start = data.draw(st.integers(0, len(good)))
    end = data.draw(st.integers(start, min(len(good), start + 40)))
    put = data.draw(
        st.one_of(st.text(max_size=20), st.sampled_from(["[]", "{}", "-1", "nan", "x"]))
    )
    _accepted_or_refused(good[:start] + put + good[end:])
