"""Plane frames against a general finite-element library and against statics."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from Pynite import FEModel3D

from checks.frames import Bar, Frame

AREA, INERTIA, MODULUS = 1600.0, 213_333.0, 12_000.0


def portal(splay: float, *, high: float = 190, wide: float = 1300) -> Frame:
    """Two legs, splayed outward, a stiff apron between their heads."""
    out = high * math.tan(math.radians(splay))
    leg = {"axial": MODULUS * AREA, "bending": MODULUS * INERTIA}
    apron = {"axial": MODULUS * 1820, "bending": MODULUS * 743_166.0}
    return Frame(
        nodes=((-out, 0), (0, high), (wide, high), (wide + out, 0)),
        bars=(
            Bar(start=0, end=1, **leg),
            Bar(start=1, end=2, **apron),
            Bar(start=2, end=3, **leg),
        ),
        pinned=(0, 3),
    )


def model(frame: Frame) -> FEModel3D:
    """The same frame in the x-y plane of another program."""
    made = FEModel3D()
    made.add_material("wood", MODULUS, MODULUS / 16, 0.3, 1e-12)
    for number, (x, z) in enumerate(frame.nodes):
        made.add_node(f"n{number}", x, z, 0)
        held = number in frame.pinned
        supports = (held, held, True, True, True, False)
        made.def_support(f"n{number}", *supports)
    for number, bar in enumerate(frame.bars):
        section = f"s{number}"
        inertia = bar.bending / MODULUS
        made.add_section(section, bar.axial / MODULUS, inertia, inertia, 2 * inertia)
        made.add_member(f"m{number}", f"n{bar.start}", f"n{bar.end}", "wood", section)
    return made


@pytest.mark.parametrize("splay", [0, 4, 9, 15])
def test_a_pushed_portal_within_1_percent_of_finite_elements(splay):
    frame = portal(splay)
    solved = frame.solved({1: (150.0, -200.0), 2: (0.0, -200.0)})
    made = model(frame)
    made.add_node_load("n1", "FX", 150)
    made.add_node_load("n1", "FY", -200)
    made.add_node_load("n2", "FY", -200)
    made.analyze_linear()
    assert solved.at(1)[0] == pytest.approx(made.nodes["n1"].DX["Combo 1"], rel=0.01)
    assert solved.at(2)[0] == pytest.approx(made.nodes["n2"].DX["Combo 1"], rel=0.01)
    for number, forces in enumerate(solved.forces):
        member = made.members[f"m{number}"]
        theirs = max(
            abs(member.max_moment("Mz", "Combo 1")), abs(member.min_moment("Mz", "Combo 1"))
        )
        assert max(abs(forces.start), abs(forces.end)) == pytest.approx(theirs, rel=0.01)


def test_legs_of_a_straight_portal_carry_half_the_push_each():
    """Pinned at the floor, the moment at each head is near F / 2 x h: 150 / 2 x 190."""
    first, _, last = portal(0).solved({1: (150.0, 0.0)}).forces
    assert abs(first.end) + abs(last.start) == pytest.approx(150 * 190, rel=1e-6)
    assert abs(first.end) == pytest.approx(75 * 190, rel=0.01)


@given(st.floats(1, 1000), st.floats(0, 14))
def test_twice_the_push_moves_twice_as_far(push, splay):
    frame = portal(splay)
    once, twice = frame.solved({1: (push, 0.0)}), frame.solved({1: (2 * push, 0.0)})
    assert twice.at(1)[0] == pytest.approx(2 * once.at(1)[0], rel=1e-9)


@given(st.floats(0, 14))
def test_a_push_from_the_other_side_is_the_mirror_image(splay):
    frame = portal(splay)
    right = frame.solved({1: (100.0, 0.0), 2: (100.0, 0.0)})
    left = frame.solved({1: (-100.0, 0.0), 2: (-100.0, 0.0)})
    assert right.at(1)[0] == pytest.approx(-left.at(2)[0], rel=1e-9)
    assert right.forces[0].end == pytest.approx(right.forces[2].start, rel=1e-6)


def test_a_frame_that_nothing_holds_is_refused():
    loose = Frame(
        nodes=((0, 0), (0, 100)), bars=(Bar(start=0, end=1, axial=1e6, bending=1e6),), pinned=()
    )
    with pytest.raises(ZeroDivisionError):
        loose.solved({1: (1.0, 0.0)})
