"""The plan book without the kernel: its words and numbers, and its pages read back."""

import io
import re

import pytest
from pypdf import PdfReader

from checks.finish import finish
from checks.placed import read
from exporters.book.content import content
from exporters.book.pages import Pages
from exporters.plan_book import plan_book
from planning.jigs.plan import jigs
from planning.machines import SAWN
from tests.helpers import examples
from tests.helpers.examples import BEDSIDE, DEMO


def pages(name: str) -> Pages:
    spec, assembly = examples.spec(name), examples.piece(name)
    set_ups, order = examples.saw(name).set_ups, examples.order(name)
    return Pages(
        spec=spec,
        assembly=assembly,
        findings=(),
        steps=order,
        mass=None,
        box=None,
        finish=finish(read(assembly, spec)),
        set_ups=set_ups,
        jigs=jigs(spec, assembly, set_ups, order),
    )


@pytest.fixture(scope="module")
def demo():
    return content(pages(DEMO))


@pytest.fixture(scope="module")
def inches():
    return content(pages(BEDSIDE))


@pytest.fixture(scope="module")
def book():
    return PdfReader(io.BytesIO(plan_book(pages(BEDSIDE))))


def column(table, head):
    return [row[table["head"].index(head)] for row in table["rows"]]


@pytest.fixture(scope="module")
def text(book) -> str:
    return " ".join(" ".join(page.extract_text() for page in book.pages).split())


def test_every_saw_set_up_has_a_card_with_its_picture_or_names_the_one_it_is_set_with(demo):
    data, pictures = demo
    cards = [card for part in data["saws"]["parts"] for card in part["cards"]]
    wanted = [
        one
        for one in pages(DEMO).set_ups
        if one.machine in SAWN and (one.distance is not None or one.cutter is not None)
    ]
    assert len(cards) == len(wanted)
    for card in cards:
        assert bool(card["same"]) != bool(card["picture"]), card
        assert card["checks"], card
        if card["picture"]:
            assert pictures[card["picture"]].startswith("<svg")


def test_what_is_said_of_every_set_up_stands_once(demo):
    saws = demo[0]["saws"]
    (always,) = saws["always"]
    cards = [card for part in saws["parts"] for card in part["cards"]]
    assert len(cards) > 20
    assert not any(always in card["mind"] for card in cards)


def test_a_set_up_tells_its_angles_from_square_and_as_a_rise(demo):
    """The long aprons' shoulders are mitred 16.96 degrees on the saw: tan 16.96 is 0.305."""
    (part,) = [p for p in demo[0]["saws"]["parts"] if p["title"].startswith("B3 ")]
    mitres = [dict(card["settings"]).get("mitre", "") for card in part["cards"]]
    assert "17.0° (30.5 in 100) to the left" in mitres


def test_finish_is_told_by_surface_with_litres_for_its_coats(demo):
    table = demo[0]["finish"]["table"]
    found = finish(read(examples.piece(DEMO), examples.spec(DEMO)))
    assert column(table, "surface") == [*(one.surface.value for one in found.surfaces), "all of it"]
    assert column(table, "area")[-1] == f"{found.area:.2f} m²"
    assert column(table, "all coats")[-1] == f"{found.litres:.2f} l"
    base = next(row for row in table["rows"] if row[0] == "base")
    assert base[2] == "3"
    closed = next(step for step in examples.order(DEMO) if step.title == "Close the case")
    coats = dict(demo[0]["finish"]["coats"])
    assert coats[f"case, inside (before step {closed.order})"] == 2


def test_hours_are_left_to_the_maker_and_the_work_is_counted(demo):
    hours = dict(demo[0]["hours"])
    assert hours["assembly"].startswith(f"{len(examples.order(DEMO))} steps")
    assert hours["jigs"] == f"{len(pages(DEMO).jigs)} jigs"
    assert hours["edging"] == "11 pieces"  # E1 to E6 and E3 again, two each of E7 and E8


def test_every_jig_has_a_sketch_and_says_what_it_is_for(demo):
    data, pictures = demo
    assert len(data["jigs"]) == len(pages(DEMO).jigs)
    for jig in data["jigs"]:
        assert pictures[jig["picture"]].startswith("<svg")
        assert jig["rows"] or "gap around" in jig["makes"]


def test_tools_bits_and_clamps_are_those_that_the_work_asks_for(demo):
    """Six clamps along the case, 1680 and two cauls of 20; the shelf pins want a bit of 5."""
    needs = demo[0]["needs"]
    assert {"table saw, taper sled", "loose-tenon mortiser"} <= set(column(needs["tools"], "tool"))
    drills = dict(needs["bits"])["drill bits"]
    assert {"5", "8", "35"} <= set(re.findall(r"[\d.]+", drills))
    clamps = dict(
        zip(
            column(needs["clamps"], "opening to at least"),
            column(needs["clamps"], "no."),
            strict=True,
        )
    )
    assert clamps["1800 mm"] == "6"


def test_inch_pages_have_what_fittings_rule_in_mm_as_well(inches):
    """The drawer boxes follow the runner: 381 long, a 15 inch runner's 452 of depth behind it."""
    data, _ = inches
    rows = [row for part in data["cut"] for row in part["table"]["rows"] if row[0][0] == "D"]
    assert rows
    assert all(" mm" in row[-1] for row in rows)
    assert "depth, mm" in data["openings"]["head"]
    deep = set(column(data["drilling"], "deep")) - {"through", ""}
    assert deep
    assert all(" mm)" in depth for depth in deep)
    for part in data["saws"]["parts"]:
        for card in part["cards"]:
            assert all("mm)" in value for key, value in card["settings"] if key == "distance")
            assert all("mm)" in value for _, value in card["checks"])


def test_what_may_be_off_goes_to_the_safe_side_on_inch_pages(inches):
    """1 mm is 2.52 of 1/64 in: two of them are 1/32; 500 and 600 open to no less in inches."""
    within = {row[2] for step in inches[0]["steps"] for row in step["measures"]}
    assert '1/32" (1 mm)' in within
    opens = column(inches[0]["needs"]["clamps"], "opening to at least")
    assert opens == ['19-11/16" (500 mm)', '23-5/8" (600 mm)']


def test_every_label_can_be_cut_out(demo):
    made = [part for part in examples.piece(DEMO).parts if part.made and part.kind != "loose"]
    wanted = sorted(part.label for part in made for _ in examples.piece(DEMO).copies_of(part.label))
    assert sorted(label for label, *_ in demo[0]["labels"]) == wanted
    leg = next(label for label in demo[0]["labels"] if label[0] == "B1")
    assert leg[1:] == ["leg left", "1 of 2", "205.9 × 57.9 × 57.9"]


def test_the_book_is_searchable_and_has_every_section_as_a_bookmark(book, text):
    for part in examples.piece(BEDSIDE).parts:
        if part.made:
            assert part.label in text
    heads = [entry.title for entry in book.outline if not isinstance(entry, list)]
    assert heads == [
        "Contents", "What you need", "Finish and hours", "Cut list", "Saw set-ups", "Jigs",
        "Drilling", "Assembly", "Labels",
    ]  # fmt: skip
    assert "reckoned, h" in text
    assert "coat 1, date" in text


def test_what_is_not_known_is_left_out(text):
    assert "Read this first" not in text
    assert "Sheets and boards" not in text
