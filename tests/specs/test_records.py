import subprocess
import sys
from decimal import Decimal
from typing import get_args

import pydantic
import pytest

from ground.quantities import Share, Slope, Units
from specs import base, case, doors, drawers, edging, hardware, joints, materials, openings, shelves
from specs.names import Names
from specs.records import Record
from specs.spec import Spec


def _records(record=Record):
    for child in record.__subclasses__():
        yield child
        yield from _records(child)


RECORDS = sorted(set(_records()), key=lambda record: record.__name__)


def read(record, tree, **names):
    return pydantic.TypeAdapter(record).validate_python(tree, context=Names(**names))


def test_all_sections_of_a_spec_are_looked_at():
    assert {Spec, base.Plinth, hardware.CupHinge, openings.Opening} <= set(RECORDS)


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__name__)
def test_every_section_is_frozen_and_says_what_each_key_is(record):
    assert record.model_config["frozen"]
    assert record.model_config["extra"] == "forbid"
    assert record.__doc__
    for name, field in record.model_fields.items():
        assert field.description, name
        assert "\n" not in field.description, name


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__name__)
def test_no_kind_is_also_a_key_beside_it(record):
    """A complaint's path drops the kind, which a key of that name would hide."""
    kind = record.model_fields.get("kind")
    kinds = get_args(kind.annotation) if kind else ()
    assert not {str(word) for word in kinds} & set(record.model_fields)


def test_the_attribute_of_a_keyword_has_an_underscore():
    corner = read(case.RabbetCorner, {"kind": "rabbet", "in": "top"})
    assert corner.in_ is case.Carrier.TOP
    screw = read(joints.ScrewJoint, {"kind": "screw", "from": "outside"})
    assert screw.from_ is joints.ScrewSide.OUTSIDE
    tenon = read(joints.LooseTenonJoint, {"kind": "loose tenon", "with": "screw"})
    assert tenon.with_ is joints.Helper.SCREW


@pytest.mark.parametrize(
    ("form", "word", "long"),
    [
        (case.Corner, "mitre", {"kind": "mitre"}),
        (joints.CaseJoint, "dowel", {"kind": "dowel"}),
        (joints.ApronJoint, "loose tenon", {"kind": "loose tenon"}),
        (joints.StretcherJoint, "stopped dado", {"kind": "stopped dado"}),
        (drawers.BoxCorner, "lock rabbet", {"kind": "lock rabbet"}),
        (drawers.Pull, "knob", {"kind": "knob", "count": "1"}),
    ],
)
def test_a_bare_word_stands_for_its_record(form, word, long):
    assert read(form, word) == read(form, long)


def test_a_bare_edging_is_the_front_edge_s():
    tape = {"kind": "veneer tape", "thickness": "1"}
    bare, long = read(edging.PanelEdging, tape), read(edging.PanelEdging, {"front": tape})
    assert bare == long
    assert bare.back is None


def test_a_back_is_grooved_and_a_door_a_slab_unless_said():
    back = {"material": "ply", "groove_depth": "6", "set_in": "10"}
    assert isinstance(read(case.Back, back), case.GroovedBack)
    assert isinstance(read(case.Back, {"kind": "rabbeted", "material": "ply"}), case.RabbetedBack)
    assert isinstance(read(doors.Doors, {"material": "ply", "hinge": "h"}), doors.SlabDoors)


def test_a_butted_top_runs_over_and_a_butted_bottom_between_unless_said():
    plain = read(case.Corners, {"top": "butt", "bottom": "butt"})
    assert (plain.top_runs, plain.bottom_runs) == (case.ButtRuns.OVER, case.ButtRuns.BETWEEN)
    said = {"top": {"kind": "butt", "runs": "between"}, "bottom": {"kind": "butt", "runs": "over"}}
    other = read(case.Corners, said)
    assert (other.top_runs, other.bottom_runs) == (case.ButtRuns.BETWEEN, case.ButtRuns.OVER)


def test_bare_numbers_are_in_the_spec_s_units():
    size = {"length": "20", "height": "10-1/2", "depth": "300 mm"}
    found = read(case.CaseSize, size, units=Units.INCH)
    assert (found.length, found.height, found.depth) == (508, 266.7, 300)


def test_numbers_given_in_code_are_mm():
    assert case.CaseSize(length=1680, height=450, depth=430).length == 1680
    corner = drawers.HalfBlindDovetailCorner(
        kind=drawers.BoxCornerKind.HALF_BLIND_DOVETAIL, slope=Slope(1 / 7)
    )
    assert corner.slope == Slope(1 / 7)


def test_a_sheet_is_as_thick_as_it_was_measured():
    sheet = {"kind": "sheet", "core": "mdf", "size": ["2440", "1220"], "grain": "none"}
    nominal = read(materials.Sheet, sheet | {"thickness": "19", "price": "97.50"})
    assert (nominal.thickness_used, nominal.price) == (19, Decimal("97.50"))
    measured = read(materials.Sheet, sheet | {"thickness": "19", "measured": "18.6"})
    assert measured.thickness_used == 18.6


@pytest.mark.parametrize(
    ("side", "deduction", "outside"), [(16, 42, -10), (15, 42, -12), (13, 42, -16), (19, 49, -11)]
)
def test_an_undermount_runner_fixes_the_inside_width_by_the_side_s_thickness(
    side, deduction, outside
):
    """Outside = opening - 42 + 2 x 16 = opening - 10; with 15: -12; 13: -16; 19: -49 + 38 = -11."""
    runner = read(hardware.Fitting, {"kind": "undermount runner", "length": "350"})
    assert runner.deduction_for(side) == deduction
    assert -runner.deduction_for(side) + 2 * side == outside


def test_a_maker_s_data_sheet_goes_before_the_usual_dimensions():
    sheet = {"kind": "undermount runner", "length": "350", "deduction": "43", "recess": "12.5"}
    runner = read(hardware.Fitting, sheet | {"travel": "340"})
    assert (runner.deduction_for(19), runner.recess, runner.opens_by) == (43, 12.5, 340)


def test_a_side_mount_slide_fixes_the_outside_width():
    """12.7 a side: opening - 25.4; with 1.1 of play opening - 26.5."""
    slide = {"kind": "side-mount slide", "length": "500"}
    assert read(hardware.Fitting, slide).deduction == 25.4
    assert read(hardware.Fitting, slide | {"play": "1.1"}).deduction == pytest.approx(26.5)


def test_a_pair_of_doors_hangs_on_both_sides_and_one_on_the_left_unless_said():
    door = {"material": "ply", "hinge": "h"}
    assert read(doors.Doors, door | {"count": "2"}).hung_on == (case.Side.LEFT, case.Side.RIGHT)
    assert read(doors.Doors, door).hung_on == (case.Side.LEFT,)
    assert read(doors.Doors, door | {"hung": "right"}).hung_on == (case.Side.RIGHT,)


def test_openings_nest_as_often_as_wanted():
    dividers = {"material": "ply", "joint": "dowel"}
    level = {"split": "level", "into": [{"size": "100", "open": "true"}, {"size": "1 share"}]}
    tree = {
        "split": "upright",
        "dividers": dividers,
        "into": [{"size": "1 share", **level}, {"size": "2 shares"}],
    }
    opening = read(openings.Opening, tree)
    (left, right) = opening.pieces
    assert (left.split, left.dividers) == (openings.Split.LEVEL, None)
    assert [piece.size for piece in left.pieces] == [100, Share(1)]
    assert right.pieces == ()


def test_shelves_stand_at_places_of_their_own():
    found = read(shelves.Shelves, {"places": ["120", "260"], "material": "p", "support": "dado"})
    assert found.places == (120, 260)
    assert (found.count, found.support) == (None, shelves.Support.DADO)


def test_a_plinth_of_lumber_has_a_thickness():
    tree = {
        "kind": "plinth",
        "height": "80",
        "set_in": {"front": "50", "back": "0", "sides": "20"},
        "material": "ash",
        "thickness": "20",
        "fixing": {"kind": "screw", "count": "6"},
    }
    found = read(base.Base, tree, materials={"ash": "lumber"})
    assert isinstance(found, base.Plinth)
    assert (found.thickness, found.set_in.back) == (20, 0)


def test_reading_a_spec_imports_nothing_heavy():
    program = (
        "import sys, specs.reading, specs.schema, specs.starter;"
        "heavy = {'cadquery', 'OCP', 'ezdxf', 'trimesh', 'numpy', 'typst', 'typer'};"
        "print(sorted(heavy & set(sys.modules)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"
