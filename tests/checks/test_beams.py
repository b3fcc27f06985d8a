"""Sag against published tables, worked examples and a general finite-element library."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from Pynite import FEModel3D

from checks.beams import (
    Loading,
    Plate,
    Strip,
    composite,
    continuous_sag,
    plate,
    point_sag,
    rectangle,
    sag,
    support_moments,
)
from tests.helpers.tables import table

G = 9.80665


@pytest.mark.parametrize(
    ("loading", "bending", "shear"),
    [
        (Loading.UNIFORM, 5 / 384, 1 / 8),
        (Loading.UNIFORM_CLAMPED, 1 / 384, 1 / 8),
        (Loading.MIDSPAN, 1 / 48, 1 / 4),
        (Loading.MIDSPAN_CLAMPED, 1 / 192, 1 / 4),
        (Loading.QUARTER_POINTS, 11 / 768, 1 / 8),
        (Loading.QUARTER_POINTS_AT_LOAD, 1 / 96, 1 / 8),
        (Loading.CANTILEVER, 1 / 8, 1 / 2),
        (Loading.CANTILEVER_END, 1 / 3, 1),
    ],
)
def test_the_eight_rows_of_the_handbooks_table(loading, bending, shear):
    """Wood Handbook FPL-GTR-190 Table 9-1, by a load of 100 N on 1000 mm: each term by itself."""
    section = rectangle(300, 20, 10_000)
    both = sag(loading, 100, 1000, section)
    bent = bending * 100 * 1000**3 / (10_000 * 300 * 20**3 / 12)
    sheared = shear * 100 * 1000 / (10_000 / 16 * 300 * 20 * 5 / 6)
    assert both == pytest.approx(bent + sheared, rel=1e-12)


def model(spans: list[float], supported: str) -> FEModel3D:
    """A level beam of spans, each in 24 members, E I = 2e9 N mm2."""
    made = FEModel3D()
    made.add_material("wood", 10_000, 625, 0.3, 1e-12)
    made.add_section("section", 6000, 200_000, 200_000, 400_000)
    places = [sum(spans[:number]) for number in range(len(spans) + 1)]
    nodes = sorted({a + (b - a) * step / 24 for a, b in pairwise(places) for step in range(25)})
    for number, x in enumerate(nodes):
        made.add_node(f"n{number}", x, 0, 0)
        on = any(abs(x - place) < 1e-6 for place in places)
        clamped = supported == "clamped" and on
        end = number == 0
        held = (end, on, True, True, end or clamped, clamped)
        made.def_support(f"n{number}", *held)
    for number in range(len(nodes) - 1):
        made.add_member(f"m{number}", f"n{number}", f"n{number + 1}", "wood", "section")
    return made


def sag_of(made: FEModel3D) -> float:
    made.analyze_linear()
    return float(-min(node.DY["Combo 1"] for node in made.nodes.values()))


SECTION = composite((Strip(wide=300, high=20, down=10, stiffness=10_000),), 1e12)


@pytest.mark.parametrize(
    ("ends", "loading"),
    [("simple", Loading.UNIFORM), ("clamped", Loading.UNIFORM_CLAMPED)],
)
def test_a_uniform_load_against_finite_elements(ends, loading):
    made = model([900], ends)
    for member in made.members:
        made.add_member_dist_load(member, "Fy", -0.5, -0.5)
    assert sag(loading, 0.5 * 900, 900, SECTION) == pytest.approx(sag_of(made), rel=1e-3)


@pytest.mark.parametrize(
    ("ends", "loading"),
    [("simple", Loading.MIDSPAN), ("clamped", Loading.MIDSPAN_CLAMPED)],
)
def test_a_force_at_midspan_against_finite_elements(ends, loading):
    made = model([900], ends)
    made.add_node_load("n12", "FY", -200)
    assert sag(loading, 200, 900, SECTION) == pytest.approx(sag_of(made), rel=1e-3)


def test_two_forces_at_the_quarter_points_against_finite_elements():
    made = model([900], "simple")
    made.add_node_load("n6", "FY", -100)
    made.add_node_load("n18", "FY", -100)
    worst = sag_of(made)
    at_load = -made.nodes["n6"].DY["Combo 1"]
    assert sag(Loading.QUARTER_POINTS, 200, 900, SECTION) == pytest.approx(worst, rel=1e-3)
    under = sag(Loading.QUARTER_POINTS_AT_LOAD, 200, 900, SECTION)
    assert under == pytest.approx(at_load, rel=1e-3)


def test_a_force_off_the_middle_is_greatest_where_statics_says():
    made = model([900], "simple")
    made.add_node_load("n6", "FY", -200)
    assert point_sag(200, 225, 900, SECTION) == pytest.approx(sag_of(made), rel=0.01)
    assert point_sag(200, 450, 900, SECTION) == pytest.approx(
        sag(Loading.MIDSPAN, 200, 900, SECTION), rel=1e-6
    )


@pytest.mark.parametrize("spans", [[540, 520, 540], [400, 900], [300, 700, 250, 640]])
def test_continuous_spans_within_1_percent_of_finite_elements(spans):
    made = model(spans, "simple")
    for member in made.members:
        made.add_member_dist_load(member, "Fy", -0.5, -0.5)
    worst = max(continuous_sag(spans, 0.5, SECTION))
    assert worst == pytest.approx(sag_of(made), rel=0.01)


def test_moments_over_the_supports_of_two_equal_spans():
    """w L^2 / 8, hogging, over the middle one."""
    assert support_moments([800, 800], 0.4) == pytest.approx([0, -0.4 * 800**2 / 8, 0])


def test_twelve_published_shelf_spans():
    """Architectural Woodwork Standards 1st ed. (2009) 4.4.14.10: lengths at L/144, whole inches.

    The published number is the worked one with its fraction cut off (0.05 in of slack).
    """
    rows = table("shelf_spans")
    assert len(rows) == 12
    for row in rows:
        thick, psf = float(row["thickness_in"]) * 25.4, float(row["load_psf"])
        modulus = float(row["MOE_psi"]) * 6.894757e-3
        section = rectangle(300, thick, modulus, 1e12)
        pressure = psf * 4.4482216 / 304.8**2

        def over(span, section=section, pressure=pressure):
            return sag(Loading.UNIFORM, pressure * 300 * span, span, section) - span / 144

        low, high = 300.0, 3000.0
        while high - low > 0.01:
            middle = (low + high) / 2
            low, high = (low, middle) if over(middle) > 0 else (middle, high)
        assert int(low / 25.4 + 0.05) == int(row["published_max_length_in"]), row


def test_worked_example_of_an_mdf_shelf():
    """300 x 18 MDF, 800 mm, 65 kg/m2 and its own weight: 3.8400 mm, 12.480 with creep 2.25."""
    section = rectangle(300, 18, 2200, 1e12)
    load = (65 + 0.018 * 750) * G * 0.300 * 0.8
    found = sag(Loading.UNIFORM, load, 800, section)
    assert found == pytest.approx(3.8400, abs=5e-5)
    assert found * (1 + 2.25) == pytest.approx(12.480, abs=5e-4)
    clamped = sag(Loading.UNIFORM_CLAMPED, load, 800, section)
    assert clamped == pytest.approx(0.7680, abs=5e-5)


def test_the_shear_of_the_same_shelf_is_small_beside_it():
    """With G = 800 MPa: 0.005 mm."""
    load = (65 + 0.018 * 750) * G * 0.300 * 0.8
    with_shear = sag(Loading.UNIFORM, load, 800, rectangle(300, 18, 2200, 800))
    without = sag(Loading.UNIFORM, load, 800, rectangle(300, 18, 2200, 1e12))
    assert with_shear - without == pytest.approx(0.005, abs=5e-4)


def test_worked_example_of_a_plywood_shelf_with_a_lip():
    """Ply 280 x 19 and an oak lip 20 x 40, 1000 mm, 1.915 kPa: I 495 614, 2.3043; bare 6.6602."""
    strips = (
        Strip(wide=280, high=19, down=9.5, stiffness=6550),
        Strip(wide=20, high=40, down=20, stiffness=12550),
    )
    section = composite(strips, 1e12)
    load = 0.001915 * 300 * 1000
    assert section.inertia == pytest.approx(495_614, abs=1)
    assert sag(Loading.UNIFORM, load, 1000, section) == pytest.approx(2.3043, abs=1e-4)
    bare = rectangle(300, 19, 6550, 1e12)
    assert sag(Loading.UNIFORM, load, 1000, bare) == pytest.approx(6.6602, abs=0.001)
    hung = sag(Loading.MIDSPAN, 100 * G, 1000, section)
    assert hung == pytest.approx(6.2935, abs=2e-4)


@given(st.floats(200, 900), st.floats(12, 40))
def test_twice_the_span_sags_sixteen_times_as_much_under_a_load_per_length(span, thick):
    section = rectangle(300, thick, 10_000, 1e15)
    once = sag(Loading.UNIFORM, 0.5 * span, span, section)
    twice = sag(Loading.UNIFORM, 0.5 * 2 * span, 2 * span, section)
    assert twice == pytest.approx(16 * once, rel=1e-6)


@given(st.floats(200, 900), st.floats(12, 40), st.floats(1, 60))
def test_a_lip_never_makes_a_shelf_weaker(span, thick, lip):
    panel = Strip(wide=300, high=thick, down=thick / 2, stiffness=7000)
    edge = Strip(wide=10, high=lip, down=lip / 2, stiffness=12_000)
    bare = sag(Loading.UNIFORM, 100, span, composite((panel,)))
    assert sag(Loading.UNIFORM, 100, span, composite((panel, edge))) < bare


@given(st.lists(st.floats(200, 900), min_size=2, max_size=5))
def test_a_beam_that_runs_on_never_sags_more_than_its_longest_span_alone(spans):
    alone = sag(Loading.UNIFORM, 0.5 * max(spans), max(spans), SECTION)
    assert max(continuous_sag(spans, 0.5, SECTION)) <= alone * 1.0001


@pytest.mark.parametrize(
    ("ratio", "published"),
    [(1.0, 0.00406), (1.2, 0.00564), (1.5, 0.00772), (2.0, 0.01013), (3.0, 0.01223)],
)
def test_plates_on_four_edges_against_the_published_table(ratio, published):
    """Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, Table 8 (from memory)."""
    made = Plate(long=ratio * 400, wide=400, along=2e6, across=2e6, twist=4e6)
    assert made.sag(0.001) * 2e6 / (0.001 * 400**4) == pytest.approx(published, abs=1.2e-5)


def test_a_long_plate_bends_as_a_strip_does():
    made = plate((2400, 400), 10, (10_000, 10_000))
    strip = sag(Loading.UNIFORM, 0.001 * 400, 400, rectangle(1, 10, 10_000, 1e12))
    assert made.sag(0.001) == pytest.approx(strip, rel=0.01)
