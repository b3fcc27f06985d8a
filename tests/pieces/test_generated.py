"""Generated specs: what is accepted builds and holds the same properties as the examples.

Refused with a message at the number's place, or set out; where no finding says that it cannot be
made, every part is one sound solid, nothing shares space, and the outside is as asked.
"""

import pytest
from hypothesis import HealthCheck, given, settings

from ground.findings import Severity
from ground.tolerances import CLASH_VOLUME, LENGTH_EPS
from models.parts.assembly import Assembly
from models.parts.part import PartKind
from models.setting_out.piece import set_out
from models.setting_out.trouble import SettingOutError
from models.solids.clash import clashes, piece_bounds
from models.solids.solid import solid
from specs.reading import read
from specs.spec import Spec
from tests.helpers.specs_strategy import spec_texts

PATIENT = [HealthCheck.too_slow, HealthCheck.data_too_large]


def laid(text: str) -> tuple[Spec, Assembly] | None:
    """The piece, or None where it is refused: always at a place of the spec, always in words."""
    spec = read(text, "generated.yaml").spec
    try:
        return spec, set_out(spec)
    except SettingOutError as trouble:
        refused = trouble.problems
    assert refused
    assert all(problem.path and problem.message for problem in refused)
    return None


@settings(suppress_health_check=PATIENT)
@given(spec_texts())
def test_what_is_accepted_is_set_out_with_its_sums(text: str) -> None:
    made = laid(text)
    if made is None:
        return
    spec, assembly = made
    assert len({copy.id for copy in assembly.copies}) == len(assembly.copies)
    ids = {copy.id for copy in assembly.copies}
    for finding in assembly.findings:
        assert set(finding.copies) <= ids
        assert finding.message
        assert finding.source
    for sum_ in assembly.sums:
        if "back panel" in sum_.what:
            opening = next(o for o in assembly.openings if f"drawer {o.id}/" in f"{sum_.subject}/")
            assert sum_.total == pytest.approx(opening.depth, abs=LENGTH_EPS)
    for opening in assembly.openings:
        assert opening.width > 0
        assert opening.height > 0
        assert opening.width <= spec.case.size.length
        assert opening.height <= spec.case.size.height


@pytest.mark.kernel
@pytest.mark.slow
@settings(max_examples=15, suppress_health_check=PATIENT)
@given(spec_texts())
def test_what_is_accepted_builds_and_holds(text: str) -> None:
    made = laid(text)
    if made is None:
        return
    spec, assembly = made
    if any(finding.severity is Severity.ERROR for finding in assembly.findings):
        return
    solids = {part.label: solid(part) for part in assembly.parts}
    assert all(one.isValid() for one in solids.values())
    assert [c for c in clashes(assembly, solids) if c.volume > CLASH_VOLUME] == []
    parts = {part.label: part for part in assembly.parts}
    wood = [
        copy
        for copy in assembly.copies
        if parts[copy.label].kind is not PartKind.HARDWARE
        or parts[copy.label].name.startswith(("glide", "leveller"))
    ]
    lo, hi = piece_bounds(wood, solids)
    size = spec.case.size
    assert lo[2] == pytest.approx(0.0, abs=LENGTH_EPS)
    assert hi[2] == pytest.approx(spec.base.height + size.height, abs=LENGTH_EPS)
    if any(finding.code == "base.feet_beyond_case" for finding in assembly.findings):
        return
    assert lo == pytest.approx((0.0, 0.0, 0.0), abs=LENGTH_EPS)
    assert hi[:2] == pytest.approx((size.length, size.depth), abs=LENGTH_EPS)
