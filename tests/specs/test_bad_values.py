"""What a spec may not say: each complaint with its full wording and place."""

from pathlib import Path

import pytest

from ground.errors import SpecError
from specs.materials import Sheet
from specs.reading import read

EXAMPLES = Path(__file__).parents[2] / "examples"
ROOM = (EXAMPLES / "reading-room-cabinet.yaml").read_text(encoding="utf-8")
LENGTHS = "write 19, '19 mm' or '3/4 in'"


def told(text, *swaps):
    """The complaints about ``text`` after each (old, new) swap, without the file's name."""
    for old, new in swaps:
        assert old in text, old
        text = text.replace(old, new, 1)
    with pytest.raises(SpecError) as refusal:
        read(text, "f.yaml")
    return [line.removeprefix("f.yaml:") for line in refusal.value.lines()]


def _complaints():
    """Blocks of complaints.txt: an example's name, what is swapped for what, what is told."""
    blocks = Path(__file__).with_name("complaints.txt").read_text(encoding="utf-8").split("\n\n")
    for block in blocks:
        name, old, new, *lines = block.strip().split("\n")
        swap = (old.removeprefix("- "), new.removeprefix("+ "))
        yield pytest.param(name, swap, [line.removeprefix("> ") for line in lines], id=new[2:])


@pytest.mark.parametrize(("name", "swap", "lines"), [*_complaints()])
def test_what_is_wrong_is_told_where_it_stands_and_with_what_would_be_right(name, swap, lines):
    text = (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")
    old, new = (part.replace("\\n", "\n") for part in swap)
    assert told(text, (old, new)) == lines


def test_an_example_may_be_measured_in_the_other_units():
    """0.75 in = 19.05 mm in a file of millimetres."""
    panel = read(ROOM.replace("measured: 18.6", "measured: 0.75 in"), "f").spec.materials[
        "case-panel"
    ]
    assert isinstance(panel, Sheet)
    assert panel.thickness_used == 19.05


def test_all_that_is_wrong_is_told_at_once_in_the_order_of_the_file():
    lines = told(
        ROOM,
        ("units: mm ", "units: cm "),
        ("species: white oak", "specis: white oak"),
        ("thickness: 19\n", "thickness: 3/0\n"),
        ("kind: splayed legs", "kind: splayd legs"),
        ("height: 450", "height: -450"),
        ("top: mitre", "top: mitred"),
        ("runner: runner", "runner: runer"),
        ("1.5 shares]", "x]"),
        ("loads: {top: 400", "loads: {top: nan"),
    )
    assert lines == [
        "4:8: units: 'cm' is not one of mm, in",
        (
            "16:5: materials.oak: the key 'species' is missing: the wood's common name, "
            "such as white oak"
        ),
        "17:5: materials.oak.specis: 'specis' is not a key here; did you mean species?",
        "28:16: materials.case-panel.thickness: '3/0' divides by zero; " + LENGTHS,
        (
            "43:9: base.kind: 'splayd legs' is not one of splayed legs, straight legs, plinth; "
            "did you mean splayed legs?"
        ),
        "59:32: case.size.height: '-450' is no size; write a length of more than 0",
        (
            "61:18: case.corners.top: 'mitred' is not one of mitre, butt, rabbet, dado; "
            "did you mean mitre?"
        ),
        (
            f"78:37: inside.into[2].drawers.heights[3]: cannot read 'x' as a length; {LENGTHS}, "
            "or '1 share' of what is left"
        ),
        (
            "82:17: inside.into[2].drawers.runner: 'runer' is not a runner of this spec; "
            "did you mean runner?"
        ),
        "87:14: loads.top: cannot read 'nan' as a force; write 400, '400 N' or '90 lbf'",
    ]


def test_a_misspelt_kind_hides_nothing_of_its_section():
    """The rest is judged as the kind that was meant, at any depth of kinds inside kinds."""
    lines = told(
        ROOM,
        ("kind: splayed legs", "kind: splayd legs"),
        ("height: 190", "height: -190"),
        ("count: 2, runs", "cont: 2, runs"),
        ("{kind: stopped dado, open: top}", "{kind: stopped dad, opn: top}"),
    )
    assert [line.split(" is ")[0] for line in lines] == [
        "43:9: base.kind: 'splayd legs'",
        "44:11: base.height: '-190'",
        "54:16: base.stretchers.cont: 'cont'",
        "54:116: base.stretchers.joint.kind: 'stopped dad'",
        "54:129: base.stretchers.joint.opn: 'opn'",
    ]


def test_long_and_unprintable_values_are_cut_and_escaped():
    (line,) = told(ROOM, ("height: 450", f"height: {'9' * 3000}"))
    assert line == f"59:32: case.size.height: cannot read '{'9' * 57}...' as a length; {LENGTHS}"
    (line,) = told(ROOM, ("height: 450", 'height: "\\e[31m"'))
    assert line == f"59:32: case.size.height: cannot read '\\x1b[31m' as a length; {LENGTHS}"


def test_a_key_as_long_as_a_page_is_cut():
    (line,) = told(ROOM, ("shop:\n", f"shop:\n  {'k' * 500}: 1\n"))
    cut = "k" * 57 + "..."
    assert line.startswith(f"8:3: shop.{cut}: '{cut}' is not a key here; the keys are kerf, trim")


def test_of_many_names_only_twelve_are_said():
    sheet = "{kind: sheet, core: mdf, thickness: 9, size: [9, 9], grain: none}"
    many = "".join(f"  s{n}: {sheet}\n" for n in range(100))
    (line,) = told(
        ROOM,
        ("materials:\n", "materials:\n" + many),
        ("  material: case-panel\n  corners", "  material: zebrano\n  corners"),
    )
    named = ", ".join(f"s{n}" for n in range(12))
    assert line.endswith(f"'zebrano' is not a sheet of this spec; name {named} and 92 more")
