"""Shop drawings as DXF, read back by ezdxf's audit, dxf-parser and GDAL."""

import io
import math
import os
import struct
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from pathlib import Path

import ezdxf
import pyogrio.raw
import pytest
from ezdxf import recover
from ezdxf.document import Drawing
from ezdxf.entities import Dimension, MText, Text
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from drawings.assembly_sheet import assembly_sheet
from drawings.choosing import wanted_views
from drawings.paper import SIZES
from drawings.part_sheet import part_sheet
from drawings.records import Ordinate, Sheet, Table
from exporters.drawing_dxf import sheet_dxf
from ground.quantities import Units
from ground.vectors import X, Y, Z
from models.parts.assembly import Opening
from models.parts.part import Part
from models.parts.views import Arc, Curve, Line, LineView
from specs.spec import Paper, Standard
from tests.helpers.hand_made_parts import board, groove, hole, splayed_leg, trim
from tests.helpers.parts_strategy import parts
from tests.helpers.readers import dxf_as_parsed
from tests.helpers.repository import ROOT
from tests.helpers.sheets import asme, iso

PANEL = board(
    600,
    200,
    20,
    groove((0, 150, 20), X, (600, 6, 8)),
    hole((50, 40, 20), 35, 12),
    hole((300, 60, 20), 5, 12, count=4, pitch=32),
)

SEEN = LineView(
    name="top",
    right=X,
    up=Y,
    visible=(
        Line((0, 0), (600, 0)),
        Line((600, 0), (600, 200)),
        Line((600, 200), (0, 200)),
        Line((0, 200), (0, 0)),
        Arc((50, 40), 17.5, 0, 360),
        Arc((300, 100), 20, 0, 90),
        Curve(((400, 100), (410, 104), (420, 110))),
    ),
    hidden=(Line((0, 147), (600, 147)),),
)


def drawn(sheet: Sheet) -> Drawing:
    """The document of a sheet, which must have no fault at all."""
    document, auditor = recover.read(io.BytesIO(sheet_dxf(sheet)))
    assert [str(error) for error in auditor.errors] == []
    assert [str(fix) for fix in auditor.fixes] == []
    return document


def dimensions(document: Drawing) -> list[Dimension]:
    return [e for e in document.modelspace() if isinstance(e, Dimension)]


def one_view(part: Part = PANEL, view: LineView = SEEN) -> Sheet:
    return part_sheet(
        part,
        (view,),
        units=Units.MM,
        standard=Standard.ISO,
        paper=Paper.A3,
        piece="Test piece",
    )


def test_strokes_keep_their_kind_and_their_layer():
    """Four sides, a circle with its two centre lines, an arc, a curve, a hidden edge."""
    document = drawn(one_view())
    found = Counter(
        (e.dxftype(), e.dxf.layer)
        for e in document.modelspace()
        if e.dxf.layer in {"VISIBLE", "HIDDEN", "CENTRE"}
    )
    title = Counter({("LINE", "VISIBLE"): 4 + 4, ("LINE", "CENTRE"): 3, ("CIRCLE", "VISIBLE"): 2})
    part = Counter(
        {
            ("LINE", "VISIBLE"): 4,
            ("CIRCLE", "VISIBLE"): 1,
            ("ARC", "VISIBLE"): 1,
            ("LWPOLYLINE", "VISIBLE"): 1,
            ("LINE", "HIDDEN"): 1,
            ("LINE", "CENTRE"): 2,
        }
    )
    assert found == title + part


def test_the_part_is_full_size_and_the_sheet_is_scaled_around_it():
    sheet = one_view()
    assert str(sheet.scale) == "1:2"
    document = drawn(sheet)
    lines = [e for e in document.modelspace().query("LINE") if e.dxf.layer == "VISIBLE"]
    lengths = {round(e.dxf.start.distance(e.dxf.end), 6) for e in lines}
    assert {600, 200} <= lengths
    wide, tall = SIZES[Paper.A3]
    assert tuple(document.header["$EXTMAX"])[:2] == (wide * 2, tall * 2)
    assert document.header["$LTSCALE"] == 2
    assert document.units == 4


def test_line_types_and_widths_are_those_of_the_standard():
    """0.5 wide and 0.25 narrow on A3; dashes 12 and gaps 3 widths long; frame 0.7."""
    document = drawn(one_view())
    widths = {layer.dxf.name: layer.dxf.lineweight for layer in document.layers}
    assert widths["VISIBLE"] == 50
    assert widths["HIDDEN"] == widths["CENTRE"] == widths["DIMENSIONS"] == 25
    assert widths["NOTES"] == 35
    assert widths["FRAME"] == 70
    dashed = document.linetypes.get(document.layers.get("HIDDEN").dxf.linetype)
    assert [t.value for t in dashed.pattern_tags.tags if t.code == 49] == [3.0, -0.75]


def test_every_size_is_a_dimension_that_measures_it():
    sheet = one_view()
    made = dimensions(drawn(sheet))
    wanted = [d.measured for view in sheet.views for d in view.dimensions]
    assert sorted(d.dxf.actual_measurement for d in made) == pytest.approx(sorted(wanted))
    assert {600.0, 200.0} <= {round(d.dxf.actual_measurement, 9) for d in made}
    for dimension in made:
        measured = dimension.get_measurement()
        if not isinstance(measured, float):  # an ordinate gives the way from its origin
            along_u = dimension.dxf.dimtype & 64
            measured = abs(measured.x if along_u else measured.y)
        assert measured == pytest.approx(dimension.dxf.actual_measurement, abs=1e-6)
        assert dimension.dxf.text == "<>"


def test_every_dimension_has_its_picture():
    sheet = iso(PANEL)
    texts = Counter(
        e.dxf.text
        for dimension in dimensions(drawn(sheet))
        for e in dimension.virtual_entities()
        if isinstance(e, Text)
    )
    assert texts == Counter(d.text for view in sheet.views for d in view.dimensions)


def test_a_stranger_reads_measurements_radii_and_units(tmp_path):
    file = tmp_path / "panel.dxf"
    sheet = one_view()
    file.write_bytes(sheet_dxf(sheet))
    found = dxf_as_parsed(file)
    assert found["header"]["$INSUNITS"] == 4
    made = [e for e in found["entities"] if e["type"] == "DIMENSION"]
    wanted = sorted(d.measured for view in sheet.views for d in view.dimensions)
    assert sorted(e["actualMeasurement"] for e in made) == pytest.approx(wanted)
    assert all(e["block"] in found["blocks"] for e in made)
    radii = [e["radius"] for e in found["entities"] if e["type"] == "CIRCLE"]
    assert 17.5 in radii
    arc = next(e for e in found["entities"] if e["type"] == "ARC")
    assert arc["radius"] == 20


def test_gdal_reads_the_part_at_full_size(tmp_path):
    file = tmp_path / "panel.dxf"
    file.write_bytes(sheet_dxf(one_view()))
    meta, _, shapes, fields = pyogrio.raw.read(file)
    layers = fields[list(meta["fields"]).index("Layer")]
    lengths = []
    for layer, wkb in zip(layers, shapes, strict=True):
        kind, count = struct.unpack_from("<II", wkb, 1)
        if layer == "VISIBLE" and (kind & 0xFFFF) % 1000 == 2 and count == 2:
            wide = (len(wkb) - 9) // 8 // count
            flat = struct.unpack_from(f"<{wide * count}d", wkb, 9)
            lengths.append(round(abs(flat[wide] - flat[0]) + abs(flat[wide + 1] - flat[1]), 6))
    assert Counter(lengths)[600] == 2
    assert Counter(lengths)[200] == 2


def test_inches_are_stacked_and_the_entity_still_measures_mm():
    sheet = asme(PANEL)
    document = drawn(sheet)
    overall = next(d for d in dimensions(document) if d.dxf.actual_measurement == 600)
    number = next(e for e in overall.virtual_entities() if isinstance(e, MText))
    assert number.text == '\\A1;23 {\\H0.65x;\\S5/8;}"'
    assert number.plain_text() == '23 5/8"'
    style = document.dimstyles.get("SHOP")
    assert style.dxf.dimlfac == pytest.approx(1 / 25.4)
    assert style.dxf.dimlunit == 5


def test_notes_keep_their_signs():
    sheet = iso(board(600, 200, 20, hole((50, 40, 20), 5, None), trim((600, 0, 0), (1, 0, 1))))
    texts = {e.dxf.text for e in drawn(sheet).modelspace() if isinstance(e, Text)}
    assert "%%c5 shelf-pin hole, through" in texts
    assert "mitre, rise 100.0 in 100, shorter at the top" in texts


def test_an_angle_is_a_dimension_that_measures_it():
    """45 degrees: group 42 has radians, the points say the same; the picture says it in words."""
    made = dimensions(drawn(iso(board(600, 100, 20, trim((600, 0, 0), (1, 0, 1))))))
    (angle,) = [dimension for dimension in made if dimension.dimtype == 5]
    assert angle.dxf.actual_measurement == pytest.approx(math.pi / 4, abs=1e-9)
    assert angle.get_measurement() == pytest.approx(45.0, abs=1e-6)
    texts = [e.dxf.text for e in angle.virtual_entities() if isinstance(e, Text)]
    assert texts == ["45.0%%d"]


ODD = st.text(
    alphabet=st.one_of(st.sampled_from("\\{}%^;<>/#\":?*|=`,'\n\t\0\r"), st.characters()),
    max_size=30,
)


@settings(
    max_examples=30,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=[HealthCheck.too_slow],
)
@given(ODD, ODD)
def test_no_text_of_the_spec_breaks_the_file(label, name):
    odd = replace(PANEL, label=label, name=name, material=name, note=name)
    for sheet in (iso(odd), asme(odd)):
        assert dimensions(drawn(sheet))


def test_codes_in_a_name_are_shown_not_obeyed(tmp_path):
    odd = replace(PANEL, label="A\\P", name="{1} 50%%d Tür")
    file = tmp_path / "odd.dxf"
    file.write_bytes(sheet_dxf(iso(odd)))
    texts = [e.plain_text() for e in ezdxf.readfile(file).modelspace() if isinstance(e, Text)]
    assert "A\\P {1} 50%%d Tür" in texts
    assert dxf_as_parsed(file)["entities"]


@settings(
    max_examples=15,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=[HealthCheck.too_slow],
)
@given(parts())
def test_any_part_is_written_without_a_fault(part):
    sheet = asme(part)
    made = dimensions(drawn(sheet))
    assert len(made) == sum(len(view.dimensions) for view in sheet.views)


@pytest.mark.kernel
def test_what_is_dimensioned_is_what_the_solid_measures():
    """Whole sizes against the solid's own box; the pin row against its own circles."""
    from models.solids.made import make

    made = make(PANEL, views=wanted_views(PANEL))
    sheet = part_sheet(
        PANEL,
        made.views,
        units=Units.MM,
        standard=Standard.ISO,
        paper=Paper.A3,
        piece="Test piece",
    )
    whole = [d.dxf.actual_measurement for d in dimensions(drawn(sheet)) if d.dxf.dimtype & 7 == 0]
    assert sorted(whole) == pytest.approx(sorted(made.measured.size), abs=1e-6)
    circles = sorted(
        s.centre for s in made.views[0].visible if isinstance(s, Arc) and s.radius == 2.5
    )
    first = [
        d.measured
        for d in sheet.views[0].dimensions
        if isinstance(d, Ordinate) and "shelf-pin-hole-2" in d.states
    ]
    assert first == pytest.approx(list(circles[0]), abs=1e-6)


FRONT = LineView(
    name="front",
    right=X,
    up=Z,
    visible=(
        Line((0, 0), (800, 0)),
        Line((800, 0), (800, 500)),
        Line((800, 500), (0, 500)),
        Line((0, 500), (0, 0)),
    ),
    hidden=(Line((10, 10), (20, 20)),),
)
TOP = LineView(
    name="top",
    right=X,
    up=Y,
    visible=(Line((0, 0), (800, 0)), Line((800, 0), (800, 400)), Line((0, 400), (0, 0))),
)
RIGHT = LineView(
    name="right",
    right=Y,
    up=Z,
    visible=(Line((0, 0), (400, 0)), Line((400, 0), (400, 500)), Line((0, 500), (0, 0))),
)


@pytest.mark.parametrize(("standard", "above"), [(Standard.ISO, False), (Standard.ASME, True)])
def test_the_assembly_has_its_whole_sizes_and_openings(standard, above):
    """An opening 18 in and 762 wide, 60 up and 400 high, in a case of 800 x 500 x 400."""
    opening = Opening(id="1", kind="open", corner=(18, 0, 60), width=762, height=400, depth=380)
    sheet = assembly_sheet(
        (FRONT, TOP, RIGHT),
        units=Units.MM,
        standard=standard,
        paper=Paper.A3,
        piece="Hall chest",
        openings=(opening,),
    )
    made = dimensions(drawn(sheet))
    whole = [d.dxf.actual_measurement for d in made if d.dxf.dimtype & 7 == 0]
    assert sorted(whole) == [400, 500, 800]
    across = [d.dxf.actual_measurement for d in made if d.dxf.dimtype & 7 == 6]
    assert sorted(across) == pytest.approx([0, 0, 18, 60, 460, 780])
    front, top, right = sheet.views
    assert (top.at[1] > front.at[1]) == above
    assert (right.at[0] > front.at[0]) == above
    assert "HIDDEN" not in {e.dxf.layer for e in drawn(sheet).modelspace()}


def test_two_processes_write_the_same_bytes():
    code = (
        "import sys, hashlib\n"
        "from exporters.drawing_dxf import sheet_dxf\n"
        "from tests.helpers.hand_made_parts import splayed_leg\n"
        "from tests.helpers.sheets import asme, iso\n"
        "assert not {'OCP', 'cadquery'} & set(sys.modules)\n"
        "for draw in (iso, asme):\n"
        "    print(hashlib.sha256(sheet_dxf(draw(splayed_leg()))).hexdigest())\n"
    )
    sums = {
        subprocess.run(
            [sys.executable, "-c", code],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed, zone in (("1", "UTC"), ("42", "Asia/Kathmandu"), ("7", "America/Lima"))
    }
    assert len(sums) == 1


def test_the_splayed_leg_is_drawn_without_a_fault(tmp_path: Path):
    (tmp_path / "leg.dxf").write_bytes(sheet_dxf(iso(splayed_leg())))
    found = dxf_as_parsed(tmp_path / "leg.dxf")
    assert sum(e["type"] == "DIMENSION" for e in found["entities"]) > 10


def test_a_table_is_ruled_and_written():
    """Two rows of two cells: three level rules, three plumb ones, four texts."""
    table = Table(at=(100, 250), widths=(20, 40), rows=(("label", "name"), ("A\\P", "side")))
    bare, tabled = one_view(), replace(one_view(), tables=(table,))
    more = Counter(e.dxftype() for e in drawn(tabled).modelspace())
    more -= Counter(e.dxftype() for e in drawn(bare).modelspace())
    assert more == {"LINE": 6, "TEXT": 4}
