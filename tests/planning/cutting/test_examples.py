"""The examples: planned quickly, sawn as planned, good as can be."""

import time
from functools import cache

import pytest

from models.parts.assembly import Assembly
from models.parts.blank import Grain
from models.parts.part import PartKind
from models.setting_out.piece import set_out
from planning.cutting.matching import matches
from planning.cutting.plan import cut_plan
from planning.cutting.records import CutPlan, StockKind
from specs.materials import Lumber
from specs.reading import load
from specs.spec import Spec
from tests.helpers.small_piece import EXAMPLES
from tests.planning.cutting.board_jobs import QUICK
from tests.planning.cutting.checker import Key, Rules, Wanted, check, ends

NAMES = sorted(path.stem for path in EXAMPLES.glob("*.yaml"))
SECONDS = 2.0
MILLED = 1e-6


@cache
def example(name: str) -> tuple[Spec, Assembly, CutPlan, float]:
    found = load(EXAMPLES / f"{name}.yaml").spec
    assembly = set_out(found)
    plan, took = planned(found, assembly)
    return found, assembly, plan, took


def planned(found: Spec, assembly: Assembly) -> tuple[CutPlan, float]:
    """A plan, and the seconds of a core that it took."""
    start = time.process_time()
    plan = cut_plan(found, assembly)
    return plan, time.process_time() - start


@pytest.mark.parametrize("name", NAMES)
def test_an_example_is_planned_within_two_seconds(name):
    """The least of three tries: whatever else shares a core only adds to its seconds."""
    found, assembly, _, took = example(name)
    tries = 1
    while took >= SECONDS and tries < 3:
        took = min(took, planned(found, assembly)[1])
        tries += 1
    assert took < SECONDS


@pytest.mark.parametrize("name", NAMES)
def test_a_plan_is_proved_or_within_one_of_the_bound(name):
    _, _, plan, _ = example(name)
    assert plan.bounds
    assert all(bound.least <= bound.used <= bound.least + 1 for bound in plan.bounds)
    for found in plan.findings:
        if found.code == "plan.bound":
            assert ("proved" in found.message) is (found.value == found.limit)


def lying(plan: CutPlan, assembly: Assembly) -> dict[Key, Wanted]:
    """What lies in the plan, each where it is as it is, and how thick it must be."""
    thick = {
        part.label: (part.blank.thickness + part.over[2]) / part.blank.layers
        for part in assembly.parts
        if part.kind in {PartKind.LUMBER, PartKind.SHEET}
    }
    return {
        (p.copy, p.layer, p.stave): Wanted(
            length=leaf.w if p.turned else leaf.l,
            width=leaf.l if p.turned else leaf.w,
            locked=False,
            thick=thick.get(p.label, 0.0),
        )
        for piece in plan.stock
        for leaf in ends(piece)
        if (p := leaf.placed) is not None
    }


@pytest.mark.parametrize("name", NAMES)
def test_every_part_of_an_example_comes_out_large_enough_with_its_grain(name):
    spec, assembly, plan, _ = example(name)
    assert plan.unmade == ()
    found = lying(plan, assembly)
    for part in assembly.parts:
        if not part.made or part.material is None:
            continue
        length, width = (part.blank.size[axis] + part.over[axis] for axis in (0, 1))
        for copy in assembly.copies_of(part.label):
            mine = {key: want for key, want in found.items() if key[0] == copy.id}
            layers = {key[1] for key in mine}
            assert layers == set(range(1, part.blank.layers + 1)), part.label
            each = [want for key, want in mine.items() if key[1] == 1]
            across = part.blank.grain is Grain.WIDTH
            along, wide = (width, length) if across else (length, width)
            lengths = [want.width if across else want.length for want in each]
            widths = [want.length if across else want.width for want in each]
            assert min(lengths) >= along - MILLED, part.label
            standing = isinstance(spec.materials[part.material], Lumber)
            least = min(wide, part.blank.thickness) if standing else wide
            assert sum(widths) >= least - MILLED, part.label
    wanted = {
        (copy.id)
        for part in assembly.parts
        if part.made and part.material is not None
        for copy in assembly.copies_of(part.label)
    }
    assert {key[0] for key in found} == wanted


@pytest.mark.parametrize("name", NAMES)
def test_every_sheet_and_board_of_an_example_can_be_sawn_as_listed(name):
    spec, assembly, plan, _ = example(name)
    kept = {copy for copies in together(spec, assembly, plan) for copy in copies}
    rows = [copies for copies in together(spec, assembly, plan) if set(copies) <= kept]
    found = lying(plan, assembly)
    for kind, levels in ((StockKind.SHEET, spec.shop.levels), (StockKind.BOARD, 9)):
        stock = tuple(piece for piece in plan.stock if piece.kind is kind)
        trim = spec.shop.trim if kind is StockKind.SHEET else 0.0
        mine = {
            (p.copy, p.layer, p.stave): found[p.copy, p.layer, p.stave]
            for piece in stock
            for leaf in ends(piece)
            if (p := leaf.placed) is not None
        }
        rules = Rules(kerf=spec.shop.kerf, trim=trim, levels=levels, wanted=mine)
        rules.rows = rows if kind is StockKind.SHEET else []
        check(stock, rules)


def together(spec: Spec, assembly: Assembly, plan: CutPlan) -> list[tuple[str, ...]]:
    """The runs of matched grain in sheets; of one that is broken, the part that is kept."""
    sheets = [
        m for m in matches(spec, assembly) if not isinstance(spec.materials[m.material], Lumber)
    ]
    broken = {f.subject for f in plan.findings if f.code == "plan.strip_too_long"}
    return [m.copies[:2] if m.what in broken else m.copies for m in sheets]


def test_the_reading_room_s_strip_is_said_with_its_sum():
    """450 + 1680 + 450 + 2 x 3.2 / cos 45 = 2589.1 against 2480; kept: 2134.5."""
    _, _, plan, _ = example("reading-room-cabinet")
    (found,) = [f for f in plan.findings if f.code == "plan.strip_too_long"]
    for said in ("450 + 1680 + 450 + 2 x 4.53 = 2589.1", "2480.0", "2134.5", "side left"):
        assert said in found.message


def test_the_reading_room_s_four_legs_come_from_one_stick():
    spec, assembly, plan, _ = example("reading-room-cabinet")
    legs = [part for part in assembly.parts if part.name.startswith("leg")]
    copies = {copy.id for leg in legs for copy in assembly.copies_of(leg.label)}
    assert len(copies) == 4
    spots = [leaf for piece in plan.stock for leaf in ends(piece)
             if leaf.placed and leaf.placed.copy in copies]  # fmt: skip
    assert len({leaf.y for leaf in spots}) == 1
    starts = sorted(leaf.x for leaf in spots)
    pitch = legs[0].blank.length + spec.shop.kerf
    assert [b - starts[0] for b in starts] == pytest.approx([0, pitch, 2 * pitch, 3 * pitch])


def test_the_bedside_cabinet_s_aprons_come_from_a_board_of_their_own():
    """One thick board for all would be 11.7 board feet against 12.3: not a tenth less."""
    _, _, plan, _ = example("bedside-cabinet")
    thick = {leaf.placed.copy: piece.size[2] for piece in plan.stock for leaf in ends(piece)
             if leaf.placed}  # fmt: skip
    assert [thick["B1.1"], thick["B2.1"]] == pytest.approx([44.45, 25.4])


def test_a_part_too_large_for_its_sheets_is_said_once_with_all_its_copies():
    """Plinth boards of 1080 against sheets of 1000 less 2 x 12: both 104 too long."""
    spec, assembly, _, _ = example("plan-chest")
    short = spec.materials["case-panel"].model_copy(update={"size": (1000.0, 1220.0)})
    less = spec.model_copy(update={"materials": spec.materials | {"case-panel": short}})
    plan = cut_plan(less, assembly, QUICK)
    (found,) = [it for it in plan.findings if it.subject == "B1 plinth, long board"]
    assert (found.code, found.copies) == ("plan.too_large", ("B1.1", "B1.2"))
    assert "104.0 mm longer" in found.message
    (lost,) = [it for it in plan.unmade if it.label == "B1"]
    assert lost.copies == found.copies
    assert {"sheet", "board"} <= {piece.kind.value for piece in plan.stock}


def test_planning_twice_gives_the_same_plan():
    spec, assembly, plan, _ = example("bedside-cabinet")
    assert cut_plan(spec, assembly) == plan
