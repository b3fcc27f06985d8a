"""The order of assembly of every example, held against its joints and its solids' bodies."""

from functools import cache

import numpy as np
import pytest

from ground.vectors import ORIGIN, Z, angle, norm, sub
from models.parts.directions import SAME_WAY, ways_of
from models.parts.features import Channel
from planning.steps.bodies import Body, bodies
from planning.steps.clamps import needed
from planning.steps.records import Step
from planning.steps.sweeping import obstacles
from tests.helpers.examples import BEDSIDE, CHEST, DEMO, EXAMPLES, parts_named, piece
from tests.helpers.examples import order as told


@cache
def bodies_of(name: str) -> dict[str, Body]:
    return bodies(piece(name))


def called(name: str, title: str) -> Step:
    found = [step for step in told(name) if step.title.startswith(title)]
    assert len(found) == 1, [step.title for step in told(name)]
    return found[0]


def names(name: str, step: Step) -> set[str]:
    return {piece(name).part(copy.rsplit(".", 1)[0]).name for copy in step.copies}


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_copy_is_taken_up(name):
    handled = {copy for step in told(name) for copy in step.copies}
    assert handled == {copy.id for copy in piece(name).copies}


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_step_asks_one_part_for_two_directions(name):
    for step in told(name):
        assert len(set(step.copies)) == len(step.copies)
        assert not set(step.copies) & set(step.standing)


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_part_moves_as_the_joints_it_closes_allow(name):
    joints = {joint.id: joint for joint in piece(name).joints}
    closed = 0
    for step in told(name):
        moves = {move.copy: move.way or ORIGIN for move in step.moves}
        for joint in (joints[found] for found in step.joints):
            for way in ways_of(joint):
                move = sub(moves.get(way.second, ORIGIN), moves.get(way.first, ORIGIN))
                if norm(move) < 1e-9:
                    continue
                closed += 1
                if step.group is None or way.home is None or way.each is None:
                    assert way.allows(move), (step.title, joint.id, move, way.home)
                else:
                    assert angle(way.home, move) <= SAME_WAY, (step.title, joint.id)
    assert closed > len(piece(name).joints) / 2


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_joint_between_parts_that_move_is_closed_once(name):
    closed = [joint for step in told(name) for joint in step.joints]
    assert sorted(closed) == sorted(set(closed))
    assert set(closed) == {joint.id for joint in piece(name).joints}


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_step_has_a_clear_way(name):
    assert [step.title for step in told(name) if not step.swept] == []


@pytest.mark.parametrize("name", EXAMPLES)
def test_nothing_stands_before_it_is_taken_up(name):
    there: set[str] = set()
    for step in told(name):
        assert set(step.standing) <= there
        there |= set(step.copies)


def test_the_demo_goes_together_as_a_maker_does_it():
    titles = [step.title for step in told(DEMO)]
    order = [
        "Legs to the long aprons",
        "Close the base",
        "Stretchers to the long aprons",
        "Corner blocks to the",
        "Dividers to the bottom",
        "Close the case",
        "Edgings on the closed case",
        "Back in from below",
        "Base on",
        "Drawer sides",
        "Drawers in",
        "Doors hung",
        "Drawer fronts on",
    ]
    places = [next(i for i, t in enumerate(titles) if t.startswith(head)) for head in order]
    assert places == sorted(places)
    assert titles[-1].startswith("Drawer fronts on")


def test_the_feet_of_the_demo_would_hold_the_back_out():
    """The back stands at 412 to 418 behind the front; the rear feet reach 406 + 190 tan 4 = 419.3.

    So it goes in before the base, and once the base is on nothing brings it home from below.
    """
    found = bodies_of(DEMO)
    back, base = called(DEMO, "Back in"), called(DEMO, "Base on")
    assert back.order < base.order
    legs = [found[c] for c in base.copies if "leg" in piece(DEMO).part(c.rsplit(".", 1)[0]).name]
    assert max(float(leg.high[1]) for leg in legs) == pytest.approx(419.286, abs=0.01)
    assert obstacles(found[back.copies[0]], Z, 1000.0, legs) == 2
    assert "would reach 7.3 mm into its way" in back.note  # 419.286 - 412


def test_no_tilt_and_no_other_place_brings_the_back_of_the_demo_past_its_feet():
    """438.9 high, 190 of it below the case when its edge is level with the feet: 248.9 are engaged.

    The grooves' play over that length lets it lean by play / 248.9, which is 190 times as much at
    the feet: 0.15 where 7.3 are wanted. And it is 1657.8 long, the feet leave 1420 at the most.
    """
    (back,) = parts_named(DEMO, "back")
    sides = (*parts_named(DEMO, "side left"), *parts_named(DEMO, "side right"))
    grooves = [
        f
        for part in sides
        for f in part.features
        if isinstance(f, Channel) and f.made_by == "case.back"
    ]
    assert len(grooves) == 2
    play = max(groove.width for groove in grooves) - back.blank.thickness
    engaged = back.blank.width - 190.0
    assert 0.0 < play / engaged * 190.0 < 0.2
    found = bodies_of(DEMO)
    legs = [c for c in found if piece(DEMO).part(c.rsplit(".", 1)[0]).name.startswith("leg")]
    inner = [float(found[c].high[0]) for c in legs if float(found[c].high[0]) < 840.0]
    outer = [float(found[c].low[0]) for c in legs if float(found[c].low[0]) > 840.0]
    assert min(outer) - max(inner) < 1420.0 < back.blank.length


def test_the_case_of_the_demo_closes_as_a_group_with_a_way_a_part():
    step = called(DEMO, "Close the case")
    ways = {move.copy: move.way for move in step.moves}
    assert step.group == "case"
    assert ways["C1.1"] == (0.0, 0.0, -1.0)  # the top
    assert ways["C3.1"] == (1.0, 0.0, 0.0)  # the left side
    assert ways["C4.1"] == (-1.0, 0.0, 0.0)


def test_legs_are_drawn_home_with_wedges_of_the_shoulder():
    """The leg's inner face leans 17.0012 degrees seen from the front, 12.2595 from the side."""
    assert called(DEMO, "Legs to").clamps[0].wedge == pytest.approx(17.0012, abs=1e-3)
    assert called(DEMO, "Close the base").clamps[0].wedge == pytest.approx(12.2595, abs=1e-3)


def test_diagonals_are_those_of_the_outside():
    """sqrt(1680^2 + 450^2) over the case; the chest's plinth sqrt(1080^2 + 690^2)."""
    case, plinth = called(DEMO, "Close the case"), called(CHEST, "Close the plinth")
    assert case.measures[0].value == pytest.approx(np.hypot(1680, 450), abs=0.01)
    assert plinth.measures[0].value == pytest.approx(np.hypot(1080, 690), abs=0.01)
    assert case.measures[0].within == 1.0


def test_every_case_frame_and_box_is_measured_corner_to_corner_where_it_closes():
    """The chest is 1120 over its sides and 640 high: 1290.0; a rail in front of it says nothing."""
    for name in EXAMPLES:
        measured = [step.title for step in told(name) if step.measures]
        assert "Drawer sides on" in measured, name
        assert any("case" in title or title.startswith("Top to the") for title in measured), name
        assert any("base" in title or "board" in title for title in measured), name
    assert called(CHEST, "Close the case").measures[0].value == pytest.approx(
        np.hypot(1120, 640), abs=0.01
    )


def test_what_is_screwed_onto_a_closed_case_is_not_measured_again():
    assert called(DEMO, "Push latch blocks").measures == ()
    assert called(BEDSIDE, "Glides").measures == ()


def test_every_glued_joint_has_clamps_or_screws():
    for name in EXAMPLES:
        for step in told(name):
            pins = all(copy.startswith("L") for copy in step.copies)
            taped = step.title.startswith("Edgings")
            held = "screw" in step.does.lower() or "corner block" in step.does
            assert step.clamps or not step.glued or pins or taped or held, (name, step.title)


def test_clamps_open_beyond_what_they_hold():
    """The case is 1680 long and clamped over two cauls of 20: 1720, told as 1800."""
    clamps = {clamp.along: clamp for clamp in called(DEMO, "Close the case").clamps}
    assert clamps["along the length"].opens == 1800.0


def test_joints_behind_one_another_share_their_clamps():
    """Both ends of the bottom: 406 deep is three clamps, and they draw left and right at once.

    The two mitres of the top stand beside one another as the clamps go down: three for each.
    """
    joints = {joint.parts: joint for joint in piece(DEMO).joints if "back" not in joint.kind}
    found = bodies_of(DEMO)
    ends = [joints["C2.1", "C3.1"], joints["C2.1", "C4.1"]]
    assert needed(ends, found, (1.0, 0.0, 0.0)) == 3
    mitres = [joints["C1.1", "C3.1"], joints["C1.1", "C4.1"]]
    assert needed(mitres, found, (0.0, 0.0, 1.0)) == 6


def test_a_captive_back_goes_in_before_the_case_is_closed():
    assert any(
        "back" in names(BEDSIDE, step) and step.order <= called(BEDSIDE, "Close the case").order
        for step in told(BEDSIDE)
    )


def test_turning_a_way_round_is_found():
    """The check of ways can fail: every closing of the demo, turned round, breaks a joint's way."""
    joints = {joint.id: joint for joint in piece(DEMO).joints}
    step = called(DEMO, "Stretchers")
    moves = {move.copy: move.way or ORIGIN for move in step.moves}
    ways = [way for found in step.joints for way in ways_of(joints[found])]
    turned = [
        way.allows(sub(moves.get(way.first, ORIGIN), moves.get(way.second, ORIGIN))) for way in ways
    ]
    assert turned
    assert not any(turned)
