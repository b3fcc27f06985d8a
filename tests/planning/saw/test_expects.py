"""What a set-up says to measure is what a rule would find, worked without the planner."""

import numpy as np
import pytest

from exporters.set_ups_record import entries
from ground.vectors import Plane
from planning.saw.job import Job
from planning.saw.plan import part_set_ups
from tests.helpers import examples
from tests.helpers.saw_parts import corners_of
from tests.helpers.saw_replay import Bench

LABELS = [
    (examples.DEMO, "B1"),
    (examples.DEMO, "B2"),
    (examples.DEMO, "B3"),
    (examples.DEMO, "B4"),
    (examples.DEMO, "C1"),
    (examples.BEDSIDE, "B1"),
    (examples.CHEST, "B1"),
]


def edge(planes: dict[str, Plane], one: str, other: str) -> float:
    """The length of the edge between two planes of a convex body."""
    points = corners_of(list(planes.values()))
    on = [
        point
        for point in points
        if all(
            abs(np.dot(planes[name].normal, point) - planes[name].offset) < 1e-5
            for name in (one, other)
        )
    ]
    return max(float(np.linalg.norm(a - b)) for a in on for b in on)


@pytest.mark.parametrize(("example", "label"), LABELS)
def test_the_checks_after_each_saw_cut_are_what_the_piece_measures(example, label):
    shop = examples.spec(example).shop
    part = examples.piece(example).part(label)
    job = Job(part=part, machines=shop.machines, kerf=shop.kerf)
    bench = Bench(part.blank.size)
    there = set(bench.planes)
    checked = 0
    for entry in entries(part_set_ups(job)):
        bench.do(entry)
        if entry["makes_face"] is None or entry["pass"] is not None:
            continue
        there.add(entry["makes_face"])
        body = {}
        for name in there:
            normal, offset = bench.planes[name]
            x, y, z = (float(v) for v in normal)
            body[name] = Plane((x, y, z), offset)
        for check in entry["expect"]:
            one, other = (name.removeprefix("stock.") for name in check["at"].split(" / "))
            assert edge(body, one, other) == pytest.approx(check["value"], abs=0.01)
            checked += 1
    assert checked >= 3
