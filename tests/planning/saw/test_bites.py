"""Tenons, dovetails and notches as a maker sets them: one stop, the waste cut and nothing else."""

import numpy as np
import pytest

from exporters.set_ups_record import entries
from models.parts.features import Trim, Waste, WasteKind
from models.parts.part import Part
from planning.machines import Tool
from planning.saw.records import SetUp
from tests.helpers import examples
from tests.helpers.saw_replay import Bench

PLINTH = "joint-sampler-plinth"


@pytest.fixture(scope="module")
def plans():
    return {name: examples.saw(name) for name in examples.EXAMPLES}


def does(plan, label: str, words: str) -> list[SetUp]:
    return [one for one in plan.of(label) if one.does == words]


def test_the_broad_shoulders_of_an_apron_are_one_set_up_with_one_stop(plans):
    """Tenons 18 long: 18 less a kerf of 1/8 in, 14.825, from either end, on both faces."""
    broad, narrow = does(plans[examples.BEDSIDE], "B2", "tenons: saw the shoulders")
    assert broad.machine is Tool.GAUGE
    assert {(cut.table_face, cut.stop) for cut in broad.cuts} == {
        (face, end) for face in ("bottom", "top") for end in ("left", "right")
    }
    assert {round(cut.distance or 0.0, 3) for cut in broad.cuts} == {14.825}
    assert len(narrow.cuts) == 2


def test_a_shoulder_is_cut_only_as_deep_as_its_tenon(plans):
    """An apron of 13/16 in round a tenon with 13.44 to its far cheek: 20.64 - 13.44 = 7.2 deep."""
    part = examples.piece(examples.BEDSIDE).part("B2")
    broad, _ = does(plans[examples.BEDSIDE], "B2", "tenons: saw the shoulders")
    cheek = does(plans[examples.BEDSIDE], "B2", "tenons: saw the cheeks")[0]
    assert cheek.distance is not None
    assert broad.depth is not None
    assert broad.depth == pytest.approx(part.blank.thickness - cheek.distance)
    assert broad.depth < part.blank.thickness / 2


def test_cheeks_are_sawn_lying_down_with_the_tenon_between_fence_and_blade(plans):
    broad, narrow = does(plans[examples.BEDSIDE], "B2", "tenons: saw the cheeks")
    assert broad.machine is narrow.machine is Tool.BAND_SAW
    assert len(broad.cuts) == 4
    for one in (broad, narrow):
        assert {cut.keeps for cut in one.cuts} == {"near"}
        assert {cut.table_face for cut in one.cuts}.isdisjoint({"left", "right"})
        assert "as far as the shoulder: 18.0 mm" in one.note


def test_dovetails_are_sawn_and_then_chopped_one_end_at_a_time_all_from_one_edge(plans):
    """Two sides a socket, from the front edge, down to the baseline; then the baseline."""
    piece = examples.piece(PLINTH)
    label = next(
        part.label
        for part in piece.parts
        if sum(isinstance(f, Waste) and f.kind is WasteKind.SOCKET for f in part.features) > 4
    )
    sockets = sum(
        isinstance(f, Waste) and f.kind is WasteKind.SOCKET for f in piece.part(label).features
    )
    steps = [one for one in plans[PLINTH].of(label) if one.does.startswith("dovetail")]
    sides = [one for one in steps if "the sides" in one.does]
    assert [one.table_face for one in sides] in (["left", "right"], ["right", "left"])
    assert sum(len(one.cuts) for one in sides) == 2 * sockets
    assert {cut.reference_edge for one in sides for cut in one.cuts} == {"front"}
    assert {one.kerf for one in sides} == {0.0}
    chopped = [one.order for one in steps if "chop" in one.does and "saw" not in one.does]
    assert min(chopped) > max(one.order for one in sides)


@pytest.mark.parametrize("name", examples.EXAMPLES)
def test_nobody_saws_deeper_than_the_piece_is_thick_or_a_bite_is_long(name, plans):
    for one in plans[name].set_ups:
        if ": saw" not in one.does or one.cutter is not None:
            continue
        size = examples.piece(name).part(one.part).blank.size
        for cut in one.cuts:
            if cut.depth is not None:
                assert cut.depth < max(size) / 2, (one.part, cut.makes_face)


def taken_away(part: Part, points: np.ndarray) -> np.ndarray:
    """Which points lie in what some joint or cut takes away, worked from the features' planes."""
    gone = np.zeros(len(points), dtype=bool)
    for feature in part.features:
        if isinstance(feature, Waste):
            inside = np.ones(len(points), dtype=bool)
            for _, plane in feature.planes:
                inside &= points @ np.array(plane.normal) <= plane.offset + 1e-6
            gone |= inside
        elif isinstance(feature, Trim):
            gone |= points @ np.array(feature.plane.normal) >= feature.plane.offset - 1e-6
    return gone


@pytest.mark.parametrize("name", [examples.BEDSIDE, "joint-sampler"])
def test_no_blade_at_a_shoulder_touches_wood_that_stays(name, plans):
    """Every kerf right across the piece, as high as the blade stands, filled with points."""
    dice, looked = np.random.default_rng(4), 0
    for part in examples.piece(name).parts:
        bench = Bench(part.blank.size)
        for entry in entries(plans[name].of(part.label)):
            bench.do(entry)
            if not entry["does"].endswith("the shoulders") or not entry["kerf"]:
                continue
            for cut in (entry, *({**entry, **alike} for alike in entry["alike"])):
                normal, offset = bench.planes[cut["makes_face"]]
                points = dice.random((400, 3)) * np.array(part.blank.size)
                points -= np.outer(points @ normal - offset, normal)
                points += np.outer(dice.random(400) * cut["kerf"], normal)
                down, level = bench.plane(cut["table_face"])
                points = points[level - points @ down <= cut["depth"]]
                points = points[((points >= 0) & (points <= part.blank.size)).all(axis=1)]
                assert taken_away(part, points).all(), (part.label, cut["makes_face"])
                looked += len(points) > 10
    assert looked >= 8
