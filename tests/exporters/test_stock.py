"""Cut plans in build.json, in tables and in pictures, read back by other readers."""

import csv
import io
import json
import xml.etree.ElementTree as ET
from dataclasses import replace
from decimal import Decimal
from functools import cache
from typing import Any

import ezdxf
import pytest
from jsonschema import Draft202012Validator

from exporters.record import schema
from exporters.stock_dxf import stock_dxf
from exporters.stock_picture import Layer, Words, picture
from exporters.stock_record import stock_entries, stock_ids, stock_totals
from exporters.stock_svg import stock_svg
from exporters.stock_tables import buying_list, saw_list
from exporters.tables import cut_list
from ground.quantities import Units
from models.setting_out.piece import set_out
from planning.cutting.plan import cut_plan
from planning.cutting.records import NodeKind
from specs.reading import load
from tests.helpers.small_piece import EXAMPLES
from tests.planning.cutting.checker import ends

MM2 = 1e-3


@cache
def planned(name="reading-room-cabinet"):
    spec = load(EXAMPLES / f"{name}.yaml").spec
    assembly = set_out(spec)
    return spec, assembly, cut_plan(spec, assembly)


def rows(content: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(content.decode(), newline="")))


def test_the_record_holds_to_its_schema():
    whole = schema()
    one = {"$schema": whole["$schema"], "$defs": whole["$defs"], "$ref": "#/$defs/stock"}
    entries = stock_entries(planned()[2])
    assert [entry["id"] for entry in entries[:2]] == ["board-1", "board-2"]
    for entry in json.loads(json.dumps(entries)):
        Draft202012Validator(one).validate(entry)


def adds_up(tree) -> None:
    """The pieces of a cut and its kerf make up what was cut."""
    if "cut" not in tree:
        return
    if tree["cut"] != "resaw":
        side, other = ("l", "w") if tree["cut"] == "across" else ("w", "l")
        total = sum(child[side] for child in tree["children"]) + tree["kerf"]
        assert total == pytest.approx(tree[side], abs=1e-6)
        assert all(child[other] == tree[other] for child in tree["children"])
        if tree["at"] > 0:
            assert tree["children"][0][side] == tree["at"]
    for child in tree["children"]:
        adds_up(child)


def leaves(tree):
    return [tree] if "cut" not in tree else [x for c in tree["children"] for x in leaves(c)]


def volume(tree, thick):
    """What becomes parts of a piece (mm3); a resawn one is thinner afterwards."""
    if "cut" not in tree:
        return tree["l"] * tree["w"] * thick if tree["part"] is not None else 0
    first, rest = thick, thick
    if tree["cut"] == "resaw":
        first, rest = tree["at"], thick - tree["at"] - tree["kerf"]
    thicks = (first, rest) if tree["at"] > 0 else (rest,)
    return sum(volume(child, t) for child, t in zip(tree["children"], thicks, strict=False))


def test_trees_add_up_and_name_what_lies_in_them():
    for entry in stock_entries(planned()[2]):
        assert (entry["cuts"]["x"], entry["cuts"]["y"]) == (0, 0)
        assert [entry["cuts"]["l"], entry["cuts"]["w"]] == entry["size"][:2]
        adds_up(entry["cuts"])
        named = [(x["x"], x["y"], x["l"], x["w"], x["part"]) for x in leaves(entry["cuts"])]
        for part in entry["parts"]:
            assert (part["x"], part["y"], part["l"], part["w"], part["label"]) in named
        assert sum(x[4] is not None for x in named) == len(entry["parts"])
        length, width, thick = entry["size"]
        made = volume(entry["cuts"], thick)
        assert entry["yield"] == pytest.approx(made / (length * width * thick), abs=1e-6)


def test_totals_count_what_is_bought():
    """Two case panels at 118, a back at 46, a drawer panel at 71, doors at 92: 445 for sheets."""
    found = stock_totals(planned()[2])
    assert found["sheets"] == 5
    assert found["cost"] >= 2 * 118 + 46 + 71 + 92


def test_the_buying_list_adds_up():
    spec, _, plan = planned("plan-chest")
    found = rows(buying_list(spec, plan))
    sums = [Decimal(row["total"]) for row in found[:-1] if row["total"]]
    assert found[-1]["item"] == "all that has a price"
    assert Decimal(found[-1]["total"]) == sum(sums)
    assert {"sheet", "allowance for waste", "veneer tape"} <= {row["item"] for row in found}


def test_the_saw_list_has_every_step_in_inches_and_millimetres():
    spec, _, plan = planned("bedside-cabinet")
    found = rows(saw_list(spec, plan))
    assert len(found) == sum(len(piece.steps) for piece in plan.stock)
    assert found[0]["fence (in)"].endswith('"')
    assert float(found[0]["fence (mm)"]) > 0


def test_the_cut_list_names_the_stock():
    spec, assembly, plan = planned()
    found = {row["label"]: row for row in rows(cut_list(spec, assembly, {}, stock_ids(plan)))}
    assert found["C1"]["stock"] == "sheet-1"
    assert found["B1"]["stock"].startswith("board-")


def test_the_drawing_has_every_part_at_full_size():
    _, _, plan = planned()
    for piece in plan.stock:
        document = ezdxf.read(io.StringIO(stock_dxf(piece, Units.MM).decode("cp1252")))
        boxes: list[Any] = [
            entity for entity in document.modelspace().query("LWPOLYLINE")
            if entity.dxf.layer == "PARTS"
        ]  # fmt: skip
        parts = [leaf for leaf in ends(piece) if leaf.kind is NodeKind.PART]
        assert len(boxes) == len(parts)
        drawn = sorted(round(area(box.get_points("xy")), 3) for box in boxes)
        assert drawn == pytest.approx(sorted(leaf.l * leaf.w for leaf in parts), abs=MM2)
        words = {text.dxf.text for text in document.modelspace().query("TEXT")}
        assert {str(step.number) for step in piece.steps if step.saw != "resaw"} <= words


def area(points):
    (x0, y0), _, (x2, y2), _ = points
    return abs((x2 - x0) * (y2 - y0))


def test_the_picture_is_well_formed_and_escapes_names():
    _, _, plan = planned()
    piece = replace(plan.stock[0], material="<oak & ash>")
    root = ET.fromstring(stock_svg(piece, Units.MM).decode())  # noqa: S314 - our own text
    texts = [element.text or "" for element in root.iter("{http://www.w3.org/2000/svg}text")]
    assert any("<oak & ash>" in text for text in texts)
    assert any(text.startswith("C1.1 top") or "C1.1" in text for text in texts)


def test_a_slim_board_has_its_saw_list_under_it_and_names_all_that_is_resawn():
    _, _, plan = planned("bedside-cabinet")
    (board,) = [it for it in plan.stock if any(step.saw == "resaw" for step in it.steps)]
    shown = picture(board, Units.INCH)
    words = [mark for mark in shown.marks if isinstance(mark, Words)]
    table = [word for word in words if word.layer is Layer.TEXT]
    assert len(table) == len(board.steps) + 2
    assert len({word.at for word in table}) == len(table)
    assert all(shown.low < word.at[1] < 0 for word in table)
    resawn = [
        leaf.placed for leaf in ends(board) if leaf.placed and leaf.placed.name[:6] == "drawer"
    ]
    sides = ", ".join(sorted(placed.copy for placed in resawn if placed.name == "drawer side"))
    assert f"{sides} drawer side" in [word.text for word in words]


@pytest.mark.parametrize("name", ["reading-room-cabinet", "plan-chest", "bedside-cabinet"])
def test_the_number_of_a_cut_stands_on_no_name_and_on_no_other_number(name):
    spec, _, cuts = planned(name)
    for piece in cuts.stock:
        words = [mark for mark in picture(piece, spec.units).marks if isinstance(mark, Words)]
        numbers = [word for word in words if word.layer is Layer.CUT]
        assert len(numbers) > 0
        for number in numbers:
            met = [word.text for word in words if word is not number and meet(number, word)]
            assert met == [], (piece.id, number.text)


def meet(one: Words, other: Words) -> bool:
    """Tell whether two texts share room, letters 0.8 of their capitals' height wide."""
    return all(
        min(a[1], b[1]) - max(a[0], b[0]) > 0.0
        for a, b in zip(spans(one), spans(other), strict=True)
    )


def spans(word: Words) -> tuple[tuple[float, float], tuple[float, float]]:
    x, y = word.at
    return (x, x + 0.8 * len(word.text) * word.height), (y, y + word.height)


def test_the_same_plan_gives_the_same_bytes():
    _, _, plan = planned()
    assert stock_dxf(plan.stock[0], Units.MM) == stock_dxf(plan.stock[0], Units.MM)
    assert stock_svg(plan.stock[0], Units.INCH) == stock_svg(plan.stock[0], Units.INCH)
