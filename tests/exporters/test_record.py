"""build.json says what the contract says, in its order, to its rounding, and its schema holds."""

import json
import math

import pytest
from jsonschema import Draft202012Validator

from exporters.feature_record import entry
from exporters.package import Listed
from exporters.record import record, schema
from ground.findings import Severity
from models.parts.assembly import Motion
from models.parts.cuts import Profile
from models.parts.features import ChannelKind, HoleKind, TrimKind, WasteKind
from models.parts.part import PartKind
from tests.helpers.small_piece import BOARD, PIECE, built, spec

ROOT = [
    "format", "casewright", "piece", "units", "bounds", "materials", "openings", "parts",
    "movers", "joints", "findings", "totals", "files",
]  # fmt: skip
PART = [
    "label", "name", "kind", "made", "material", "quantity", "finished", "edged", "cut", "layers",
    "staves", "grain", "volume", "mass", "copies", "features", "faces", "files",
]  # fmt: skip


@pytest.fixture
def content():
    return json.loads(record(built()))


@pytest.fixture
def features():
    return {feature.id: entry(feature, BOARD) for feature in BOARD.features}


def test_the_record_satisfies_its_schema(content):
    Draft202012Validator.check_schema(schema())
    Draft202012Validator(schema()).validate(content)


def test_the_schema_refuses_what_is_not_a_record(content):
    validator = Draft202012Validator(schema())
    content["parts"][0]["weight"] = 3
    content["findings"][0]["severity"] = "fatal"
    content["files"] = [{"path": "../x", "bytes": 1, "sha256": "0" * 64}]
    assert {next(iter(error.absolute_path)) for error in validator.iter_errors(content)} == {
        "parts",
        "findings",
        "files",
    }


@pytest.mark.parametrize(
    ("name", "kinds"),
    [
        ("trim", TrimKind),
        ("channel", ChannelKind),
        ("hole", HoleKind),
        ("bite", WasteKind),
        ("eased_edge", Profile),
    ],
)
def test_the_schema_knows_every_kind_of_feature(name, kinds):
    assert schema()["$defs"][name]["properties"]["kind"]["enum"] == [str(kind) for kind in kinds]


def test_the_schema_knows_every_kind_of_part_severity_and_motion():
    defs = schema()["$defs"]
    for name, key, kinds in (
        ("part", "kind", PartKind),
        ("finding", "severity", Severity),
        ("mover", "kind", Motion),
    ):
        assert defs[name]["properties"][key]["enum"] == [str(kind) for kind in kinds]


def test_keys_come_in_the_contracts_order(content):
    assert list(content) == ROOT
    assert list(content["parts"][0]) == PART
    assert list(content["parts"][0]["copies"][0]) == ["id", "group", "placement", "mover"]
    assert list(content["movers"][0]) == ["id", "kind", "axis", "origin", "limit", "copies"]
    assert list(content["joints"][0]) == ["id", "kind", "parts", "loose", "closes"]
    assert list(content["findings"][0]) == [
        "code", "severity", "subject", "copies", "at", "message", "value", "limit", "unit",
        "source",
    ]  # fmt: skip


def test_a_currency_stands_after_the_units_where_the_spec_names_one():
    named = built(spec=spec().model_copy(update={"currency": "kr"}))
    content = json.loads(record(named))
    assert list(content)[3:5] == ["units", "currency"]
    Draft202012Validator(schema()).validate(content)


def test_lists_are_in_natural_order(content):
    assert [part["label"] for part in content["parts"]] == ["B10", "F2", "H1", "L1"]
    assert [copy["id"] for copy in content["parts"][0]["copies"]] == ["B10.2", "B10.10"]
    assert [opening["id"] for opening in content["openings"]] == ["2/1", "10"]
    assert [joint["id"] for joint in content["joints"]] == ["j9", "j10"]
    assert [face["name"] for face in content["parts"][0]["faces"]] == ["bottom", "mitre-1"]


def test_files_are_listed_in_natural_order():
    listed = [Listed(path=f"parts/D{n}.stl", bytes=n, sha256="0" * 64) for n in (10, 2, 1)]
    content = json.loads(record(built(listed=tuple(listed))))
    assert [file["path"] for file in content["files"]] == [
        "parts/D1.stl",
        "parts/D2.stl",
        "parts/D10.stl",
    ]


def test_lengths_and_rotations_are_rounded_and_no_zero_is_negative(content):
    turned = content["parts"][0]["copies"][1]["placement"]
    assert turned == [[0, -1, 0, 0.3], [1, 0, 0, 0], [0, 0, 1, 7], [0, 0, 0, 1]]
    assert content["parts"][0]["faces"][1]["normal"] == [0.707106781187, 0.0, 0.707106781187]
    assert content["openings"][0]["height"] == 115.657333
    assert "-0.0" not in record(built()).decode()


def test_a_part_says_its_three_sizes(content):
    board = content["parts"][0]
    assert board["finished"] == [400, 100, 20]
    assert board["edged"] == [400, 106, 20]
    assert board["cut"] == [400, 100, 20]


def test_what_is_bought_has_no_blank_and_no_files(content):
    glide = content["parts"][2]
    assert glide["made"] is False
    assert (glide["cut"], glide["grain"], glide["files"]) == (None, None, None)


def test_files_not_written_are_null(content):
    assert content["parts"][0]["files"] == {
        "step": "parts/B10-board.step",
        "stl": None,
        "3mf": None,
        "dxf": None,
        "drawing": "drawings/B10-board.dxf",
    }


def test_a_part_that_could_not_be_made_has_no_made_up_numbers():
    content = json.loads(record(built(measured={}, files={}, bounds=None)))
    board = content["parts"][0]
    assert (board["finished"], board["volume"], board["mass"], board["faces"]) == (
        None,
        None,
        None,
        [],
    )
    assert content["bounds"] is None
    assert content["totals"] == {"parts": 5, "volume": 0.0, "mass": 0.0}
    Draft202012Validator(schema()).validate(content)


def test_masses_are_volumes_by_published_or_written_densities(content):
    """White oak 762 kg/m3: 0.0007 m3 x 762 = 0.5334 kg; the front panel's own 850: 0.85 kg.

    A dowel of 8 x 40 counts as beech, 710: 2010.62 mm3, 1.428 g. Two boards, one front, one dowel:
    2 x 0.5334 + 0.85 + 0.0014 = 1.9182 kg. The glide is of no known material and not counted.
    """
    masses = {part["label"]: part["mass"] for part in content["parts"]}
    assert masses == {"B10": 0.5334, "F2": 0.85, "H1": None, "L1": 0.001428}
    assert content["totals"]["mass"] == 1.918228
    assert content["totals"]["parts"] == 5


def test_materials_are_as_read_in_mm_with_the_thickness_used(content):
    panel = content["materials"]["case-panel"]
    assert panel == {
        "kind": "sheet",
        "core": "veneer plywood",
        "face": "white oak",
        "thickness": 19,
        "measured": 18.6,
        "size": [2500, 1250],
        "grain": "length",
        "price": 118,
        "thickness_used": 18.6,
    }
    assert content["materials"]["oak"]["boards"][0] == {
        "thickness": 65,
        "width": 210,
        "length": 2400,
        "count": 1,
    }
    assert content["materials"]["oak"]["thickness_used"] is None
    assert list(content["materials"]) == [
        "oak", "case-panel", "back-panel", "drawer-panel", "front-panel",
    ]  # fmt: skip


def test_every_feature_names_the_face_it_enters_or_makes(features):
    assert {name: feature["face"] for name, feature in features.items()} == {
        "mitre-1": "mitre-1",
        "groove-1": "top",
        "mortise-1": "top",
        "counterbore-1": "top",
        "clearance-hole-1": "counterbore-1.floor",
        "shelf-pin-hole-1": "top",
        "countersink-1": "top",
        "notch-1": None,
        "round-over-1": None,
    }


def test_every_feature_says_how_deep_it_is(features):
    assert {name: feature["depth"] for name, feature in features.items()} == {
        "mitre-1": None,
        "groove-1": 8,
        "mortise-1": 15,
        "counterbore-1": 5,
        "clearance-hole-1": None,
        "shelf-pin-hole-1": 12,
        "countersink-1": pytest.approx(4.5),  # 9 wide at 90 degrees
        "notch-1": None,
        "round-over-1": None,
    }


def test_names_outside_ascii_are_written_as_they_are():
    named = built(spec=spec().model_copy(update={"name": "Türmchen"}))
    assert '"piece": "Türmchen"' in record(named).decode()


def test_numbers_that_are_no_numbers_are_never_written():
    with pytest.raises(ValueError, match="Out of range"):
        record(built(bounds=((0.0, 0.0, math.nan), (1.0, 1.0, 1.0))))


def test_the_same_build_gives_the_same_bytes_whatever_order_parts_came_in():
    whole = built()
    turned = built(
        measured=dict(reversed(list(whole.measured.items()))),
        files=dict(reversed(list(whole.files.items()))),
    )
    assert record(whole) == record(turned)


def test_the_little_piece_is_a_piece():
    assert all(PIECE.copies_of(part.label) for part in PIECE.parts)
