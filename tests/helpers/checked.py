"""Specs and what one check has to say about them."""

from collections.abc import Callable, Iterable

from checks.placed import Piece, read
from ground.findings import Finding
from models.setting_out.piece import set_out
from specs.loads import Loads
from specs.spec import Spec
from tests.helpers.small_case import small_spec

Check = Callable[[Piece], Iterable[Finding]]

BUTTED = ("{top: butt, bottom: butt}", "{top: dowel, bottom: dowel}")


def looked(spec: Spec) -> Piece:
    """The piece of a spec, as checks see it."""
    return read(set_out(spec), spec)


def found(spec: Spec, check: Check) -> dict[str, Finding]:
    """The findings of a check by their codes; the last of each."""
    return {one.code: one for one in check(looked(spec))}


def all_found(spec: Spec, check: Check) -> tuple[Finding, ...]:
    """Every finding of a check."""
    return tuple(check(looked(spec)))


def case(
    inside: str, *, panel: float = 18.0, length: float = 800, loads: Loads | None = None
) -> Spec:
    """A case of MDF on a plinth, 600 high and 330 deep, with ``inside``."""
    spec = small_spec(
        *BUTTED,
        inside=inside,
        panel=panel,
        size=f"{{length: {length}, height: 600, depth: 330}}",
    )
    return spec if loads is None else spec.model_copy(update={"loads": loads})
