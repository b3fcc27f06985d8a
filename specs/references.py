"""Names in a spec that must stand in its ``materials`` or ``hardware``, with the kind they need."""

from collections.abc import Callable, Mapping
from typing import Annotated

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema

from ground.quantities import shown
from specs.names import Names, known
from specs.wording import described, fault, guess, listed, plain


def _named(
    pick: Callable[[Names], Mapping[str, str] | None], what: str, kinds: tuple[str, ...]
) -> tuple[BeforeValidator, WithJsonSchema]:
    """A reader of a name that must stand in a section, with one of ``kinds`` (any where empty)."""

    def read(value: object, info: ValidationInfo) -> object:
        things = pick(known(info))
        if not isinstance(value, str):
            message = f"{described(value)} stands where the name of {what} belongs; write its name"
            raise fault(message)
        if things is None:
            return value
        fitting = [name for name, kind in things.items() if not kinds or kind in kinds]
        right = f"name {listed(fitting)}" if fitting else f"add {what} to the spec first"
        if value not in things:
            near = guess(value, fitting)
            message = f"{described(value)} is not {what} of this spec{near or '; ' + right}"
            raise fault(message)
        if kinds and things[value] and things[value] not in kinds:
            message = f"{shown(value)} is of the kind {plain(things[value])}, not {what}; {right}"
            raise fault(message)
        return value

    return BeforeValidator(read), WithJsonSchema(
        {"type": "string", "description": f"name of {what}"}
    )


def _materials(names: Names) -> Mapping[str, str] | None:
    return names.materials


def _hardware(names: Names) -> Mapping[str, str] | None:
    return names.hardware


RUNNER_KINDS = ("undermount runner", "side-mount slide", "wooden runner")
HINGE_KINDS = ("cup hinge", "butt hinge")
CATCH_KINDS = ("magnetic catch", "ball catch")

LumberName = Annotated[str, *_named(_materials, "lumber", ("lumber",))]
"""Name of a lumber in ``materials``."""
SheetName = Annotated[str, *_named(_materials, "a sheet", ("sheet",))]
"""Name of a sheet in ``materials``."""
MaterialName = Annotated[str, *_named(_materials, "a material", ())]
"""Name of a lumber or a sheet in ``materials``."""
RunnerName = Annotated[str, *_named(_hardware, "a runner", RUNNER_KINDS)]
"""Name of a runner or slide in ``hardware``."""
HingeName = Annotated[str, *_named(_hardware, "a hinge", HINGE_KINDS)]
"""Name of a hinge in ``hardware``."""
LatchName = Annotated[str, *_named(_hardware, "a push latch", ("push latch",))]
"""Name of a push latch in ``hardware``."""
CatchName = Annotated[str, *_named(_hardware, "a catch", CATCH_KINDS)]
"""Name of a catch in ``hardware``."""
PinsName = Annotated[str, *_named(_hardware, "shelf pins", ("shelf pins",))]
"""Name of shelf pins in ``hardware``."""
