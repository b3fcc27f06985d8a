"""The example specs, read and set out once for all tests."""

from functools import cache
from typing import TYPE_CHECKING

from models.parts.assembly import Assembly, Copy
from models.parts.part import Part
from specs.reading import load, read
from specs.spec import Spec
from tests.helpers.repository import ROOT

if TYPE_CHECKING:
    from planning.saw.plan import SawPlan
    from planning.steps.records import Step

EXAMPLES = tuple(sorted(file.stem for file in (ROOT / "examples").glob("*.yaml")))
DEMO = "reading-room-cabinet"
BEDSIDE = "bedside-cabinet"
CHEST = "plan-chest"


@cache
def spec(name: str) -> Spec:
    """The spec of an example."""
    return load(ROOT / "examples" / f"{name}.yaml").spec


@cache
def piece(name: str) -> Assembly:
    """An example, set out."""
    from models.setting_out.piece import set_out

    return set_out(spec(name))


@cache
def saw(name: str) -> "SawPlan":
    """The set-ups of an example, planned once."""
    from planning.saw.plan import saw_plan

    return saw_plan(piece(name), spec(name).shop)


@cache
def order(name: str) -> tuple["Step", ...]:
    """The steps of an example's assembly, worked out once."""
    from planning.steps.plan import steps

    return steps(piece(name))


def parts_named(name: str, part: str) -> tuple[Part, ...]:
    """The distinct parts of an example whose name begins with ``part``."""
    return tuple(found for found in piece(name).parts if found.name.startswith(part))


def copies_named(name: str, part: str) -> tuple[Copy, ...]:
    """Their copies."""
    return tuple(
        copy for found in parts_named(name, part) for copy in piece(name).copies_of(found.label)
    )


def changed(name: str, *swaps: tuple[str, str]) -> Spec:
    """An example's spec with some of its text changed."""
    text = (ROOT / "examples" / f"{name}.yaml").read_text(encoding="utf-8")
    for old, new in swaps:
        assert old in text
        text = text.replace(old, new)
    return read(text, f"{name}.yaml").spec
