"""The answer to what was set wrong, in lines, in the piece's own units."""

from collections.abc import Iterator
from typing import assert_never

from ground.quantities import Units, length_text
from planning.saw.job import Job
from planning.saw.records import SetUp
from planning.saw.what_if import Answer, Outcome, Rescue
from planning.saw.wrong_blank import BlankOutcome, SizeOutcome
from planning.saw.wrong_pass import Mend, PassOutcome
from planning.saw.wrong_wall import WallOutcome

SHOWN = 0.05
"""Less than a rule shows (mm)."""

UNCHANGED = "Nothing that a rule can measure has changed."

SIDES = ("length", "width", "thickness")


def told(job: Job, found: Answer, units: Units) -> list[str]:
    """The answer in lines."""
    from exporters.set_ups_table import said

    step = found.step
    makes = f", makes {step.makes_face}" if step.makes_face else ""
    head = f"{job.part.label} {job.part.name}, step {step.order}: {step.machine.value}"
    lines = [f"{head}, {said(step.does, units)}{makes}{together(step)}"]
    match found:
        case Outcome():
            lines += cut_told(found, units)
        case PassOutcome():
            lines += pass_told(found, units)
        case WallOutcome():
            lines += wall_told(found, units)
        case BlankOutcome():
            lines += blank_told(found, units)
        case SizeOutcome():
            lines += size_told(found, units)
        case _:
            assert_never(found)
    return lines if len(lines) > 1 else [*lines, UNCHANGED]


def together(step: SetUp) -> str:
    """How many cuts feel it."""
    others = len(step.alike)
    return f", and {others} more set with it" if others else ""


def cut_told(found: Outcome, units: Units) -> Iterator[str]:
    """A cut of the saw."""
    if not found.changed and not found.missing and not found.left_on:
        return
    yield "Now it measures:"
    for slip in found.changed:
        yield (
            f"  {shown(slip.got, units)} instead of {shown(slip.wanted, units)}"
            f" where {slip.face} meets {slip.end}"
        )
    if found.missing:
        yield f"Wood is missing, up to {shown(found.missing, units)} deep."
    if found.left_on:
        yield f"Wood is left on, up to {shown(found.left_on, units)}."
    if found.spoils:
        yield "What else it touches:"
        yield from (f"  {what}" for what in found.spoils)
    yield saved(found.rescue, units)


def saved(rescue: Rescue | None, units: Units) -> str:
    """What saves the part."""
    if rescue is None:
        return "No cut within the blank saves it: make the part anew."
    made = rescue.setting
    numbers = (
        f"mitre {made.mitre:.1f}, tilt {made.tilt:.1f}, {shown(made.distance, units)}"
        f" {made.measured}"
    )
    if rescue.moved is not None:
        return (
            f"The whole part still fits into what is left, moved {moves(rescue.moved, units)}: set"
            f" {numbers}, and move every other cut by as much."
        )
    if rescue.whole:
        return f"Nothing is lost: set it as planned ({numbers}) and cut again."
    return (
        f"Cut it again {shown(rescue.deeper, units)} deeper with the right settings ({numbers}):"
        " every angle comes right, and the part is so much smaller there; what fits to it follows."
    )


def moves(moved: tuple[float, float, float], units: Units) -> str:
    """How far a part shifts inside its blank."""
    ways = zip(SIDES, moved, strict=True)
    return ", ".join(f"{shown(abs(by), units)} along its {way}" for way, by in ways if by)


def pass_told(found: PassOutcome, units: Units) -> Iterator[str]:
    """A groove, a mortise or a hole."""
    if found.mend is Mend.NOTHING:
        return
    yield from where_told(found, units)
    yield from depth_told(found, units)
    if found.meets:
        yield f"It runs into {', '.join(found.meets)} now."
    if found.later:
        yield f"What starts on its floor moves with it: {'; '.join(found.later)}."
    yield from fit_told(found, units)
    yield mended(found, units)


def where_told(found: PassOutcome, units: Units) -> Iterator[str]:
    """How far it lies from where it should."""
    step = found.step
    faces = (step.reference_edge, step.stop)
    for away, face in zip(found.farther, faces, strict=True):
        if abs(away) >= SHOWN:
            way = "farther from" if away > 0 else "nearer to"
            yield f"It lies {shown(abs(away), units)} {way} {face} than it should."


def depth_told(found: PassOutcome, units: Units) -> Iterator[str]:
    """How deep and how wide it is, and what is left under it."""
    if abs(found.deeper) >= SHOWN:
        way = "too deep" if found.deeper > 0 else "too shallow"
        yield f"It is {shown(abs(found.deeper), units)} {way}."
    if abs(found.wider) >= SHOWN:
        way = "too wide" if found.wider > 0 else "too narrow"
        yield f"It is {shown(abs(found.wider), units)} {way}."
    if found.out is not None:
        yield f"It comes out of {found.out}."
    elif found.left is not None and found.deeper >= SHOWN:
        weak = ", and that can break out or show through" if found.thin else ""
        yield f"{shown(found.left, units)} of wood is left under it{weak}."


def fit_told(found: PassOutcome, units: Units) -> Iterator[str]:
    """What the other half of the joint feels."""
    felt = []
    off = max(abs(away) for away in found.farther)
    if off >= SHOWN:
        felt.append(f"comes to sit {shown(off, units)} off")
    if found.deeper <= -SHOWN:
        felt.append(f"stands out by {shown(-found.deeper, units)}")
    if found.wider >= SHOWN:
        felt.append(f"is loose by {shown(found.wider, units)}")
    elif found.wider <= -SHOWN:
        felt.append("does not go in")
    if felt:
        yield f"What fits there by {found.fits}: it {', '.join(felt)}."


def mended(found: PassOutcome, units: Units) -> str:
    """What mends it."""
    width, depth = shown(found.width, units), shown(found.depth, units)
    drilled = found.step.cutter is not None and found.step.cutter.diameter is not None
    match found.mend:
        case Mend.CUT_AGAIN:
            return "Nothing is lost: set it as planned and cut again."
        case Mend.SLIP if drilled:
            return (
                f"Leave it where nothing has to bear on its floor; else glue a plug {width} thick"
                " in, pare it flush, and drill anew as planned."
            )
        case Mend.SLIP:
            return (
                "Leave it where nothing has to bear on its floor; else glue a slip"
                f" {shown(found.deeper, units)} thick on the floor."
            )
        case Mend.FILL if drilled:
            return f"Glue a plug {width} thick in, pare it flush, and drill anew as planned."
        case Mend.FILL:
            return (
                f"Glue a strip {width} wide and {depth} deep in, its grain along the cut, pare it"
                " flush, and cut anew as planned; or move the other half by as much, if it is not"
                " made yet and nothing else hangs on it."
            )
        case Mend.REMAKE:
            return "It shows on a face on view: make the part anew."
        case Mend.NOTHING:
            return UNCHANGED
    assert_never(found.mend)


def wall_told(found: WallOutcome, units: Units) -> Iterator[str]:
    """A shoulder, a cheek, a socket's side."""
    if found.left_on:
        yield f"Wood is left on, up to {shown(found.left_on, units)}: the joint does not close."
    if found.missing:
        yield (
            f"Wood is missing beyond the line, up to {shown(found.missing, units)}: the joint of"
            f" {found.fits} gapes by as much."
        )
    if found.deeper >= SHOWN:
        yield (
            f"The cut runs {shown(found.deeper, units)} into wood that stays, and the joint is so"
            " much weaker at its root."
        )
    elif found.deeper <= -SHOWN:
        yield f"{shown(-found.deeper, units)} still stand under the cut."
    if found.missing:
        yield (
            f"Glue a shaving {shown(found.missing, units)} thick on that wall, grain along it, and"
            " pare it to the line; where it is a shoulder, set all of them back by as much instead,"
            " and the part is so much shorter between them."
        )
    elif found.deeper >= SHOWN:
        yield "Run glue into the cut and leave it; no further cut brings the wood back."
    elif found.left_on or found.deeper <= -SHOWN:
        yield "Nothing is lost: saw or pare to the line as planned."


def blank_told(found: BlankOutcome, units: Units) -> Iterator[str]:
    """The blank."""
    for side, short in zip(SIDES, found.short, strict=True):
        if short:
            yield f"The finished part lacks {shown(short, units)} of {side}."
    for side, over in zip(SIDES, found.over, strict=True):
        if over:
            yield f"{shown(over, units)} too much of {side} is left on: take it off as planned."
    if any(found.short):
        yield "No cut saves it: make the blank anew, or the part so much smaller with all it meets."
    elif found.moved is not None:
        moved = moves(found.moved, units)
        how = f", moved {moved}, and every cut with it" if moved else " as it is set out"
        yield f"The finished part still lies inside the blank{how}."


def size_told(found: SizeOutcome, units: Units) -> Iterator[str]:
    """What was trimmed or eased."""
    if abs(found.over) < SHOWN:
        return
    way = "too much" if found.over > 0 else "too little"
    yield f"{found.what}: {shown(abs(found.over), units)} {way}."
    if found.again:
        yield "Nothing is lost: set it as planned and go over it again."
    else:
        yield (
            "No further cut brings the wood back: take the others that it is seen beside to the"
            " same size, or make it anew."
        )


def shown(value: float, units: Units) -> str:
    """A length as a rule shows it."""
    return length_text(value, units)
