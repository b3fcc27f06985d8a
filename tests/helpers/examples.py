"""The example specs, read and set out once for all tests."""

from functools import cache

from models.parts.assembly import Assembly, Copy
from models.parts.part import Part
from specs.reading import load, read
from specs.spec import Spec
from tests.helpers.repository import ROOT

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
