"""Replaying the set-ups from the blank leaves every face of the finished part."""

import numpy as np
import pytest

from exporters.set_ups_record import entries
from models.parts.part import Part
from tests.helpers import examples
from tests.helpers.saw_replay import off, replay

PARTS = [
    (name, part.label)
    for name in examples.EXAMPLES
    for part in examples.piece(name).parts
    if part.made
]


@pytest.fixture(scope="module")
def plans():
    return {name: examples.saw(name) for name in examples.EXAMPLES}


def solid_faces(part: Part):
    from models.solids.measure import measure
    from models.solids.solid import solid

    return measure(solid(part), part).faces


@pytest.mark.kernel
@pytest.mark.parametrize("name", examples.EXAMPLES)
def test_every_face_of_every_part_comes_out_of_its_set_ups(name, plans):
    wrong = []
    for part in examples.piece(name).parts:
        if not part.made:
            continue
        planes = replay(part.blank.size, entries(plans[name].of(part.label)))
        for face in solid_faces(part):
            normal = np.array(face.plane.normal)
            # far from the origin an angle shows: measure where the part is
            place = normal * face.plane.offset
            centre = np.array(part.blank.centre)
            place = centre + normal * (face.plane.offset - float(normal @ centre))
            turned, away = off(face.name, (normal, face.plane.offset), planes, place)
            if turned >= 0.01 or away >= 0.01:
                wrong.append((part.label, face.name, turned, away))
    assert wrong == []


def test_there_are_parts_to_replay():
    assert len(PARTS) > 60
