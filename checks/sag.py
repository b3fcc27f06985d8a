"""Sag of everything that carries a load, at once and after creep, and what would be enough."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

from checks.aprons import apron_sag
from checks.beams import Loading, Section, Strip, composite, continuous_sag, plate, rectangle, sag
from checks.limits import (
    AWS,
    AWS_SOURCE,
    SHELF_TEST,
    SHELF_TEST_SOURCE,
    TO_THE_EYE,
    TO_THE_EYE_SOURCE,
    shelf_test,
)
from checks.members import (
    Member,
    Over,
    Way,
    creep,
    members,
    own_weight,
    stiffness,
    strips,
)
from checks.placed import Piece, Placed
from ground import wood
from ground.findings import Finding, Severity
from specs.materials import Lumber

LEFT_OF_GAP = 0.5
"""What a sagging panel leaves of the gap over a front (mm). Common practice, no source."""
GAP_SOURCE = "the gap of the spec less 0.5 mm, after creep; common practice, no source"
THICKEST, TALLEST = 60.0, 150.0
LIP_THICKNESS = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Bent:
    """Sag of one member the way it bends least (mm): at once and after creep, span by span."""

    way: Way
    at_once: tuple[float, ...]
    in_time: tuple[float, ...]
    stiff: str
    along: bool
    creeping: str

    @property
    def worst(self) -> int:
        """The span that sags most beside its length."""
        spans = self.way.spans
        return max(range(len(spans)), key=lambda place: self.at_once[place] / spans[place])

    @property
    def span(self) -> float:
        """Length of that span."""
        return self.way.spans[self.worst]

    @property
    def now(self) -> float:
        """Its sag at once."""
        return self.at_once[self.worst]

    @property
    def later(self) -> float:
        """Its sag after creep."""
        return self.in_time[self.worst]

    def under(self, over: Over) -> float:
        """Sag after creep over one front."""
        if self.way.axis == 1:
            return max(self.in_time)
        x = over.front.middle[0]
        for a, b, later in zip(
            self.way.places[:-1], self.way.places[1:], self.in_time, strict=True
        ):
            if a <= x <= b:
                return later
        return max(self.in_time)


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What would be done to a member: thicker, a lip under its front edge, shorter spans."""

    thickness: float = 0.0
    lip: float = 0.0
    spans: int = 1


AS_DRAWN = Change()


def find_sag(piece: Piece) -> Iterator[Finding]:
    """Say what sags too much, what nothing is known of, and how the rest does."""
    fine: list[tuple[Placed, Bent]] = []
    for member in _distinct(members(piece)):
        bent = bend(piece, member)
        if bent is None:
            if member.ways:
                yield _unknown(member)
            continue
        found = _finding(piece, member, bent)
        if found is None:
            fine.append((member.panel, bent))
        else:
            yield found
    yield from apron_sag(piece)
    if fine:
        yield _summary(fine)


def _distinct(found: Iterable[Member]) -> Iterator[Member]:
    """One member of those alike: copies of one part over the same spans."""
    seen: set[tuple[object, ...]] = set()
    for member in found:
        spans = tuple(tuple(round(span, 3) for span in way.spans) for way in member.ways)
        gaps = tuple(round(over.gap, 3) for over in member.over)
        key = (member.panel.part.label, spans, gaps)
        if key not in seen:
            seen.add(key)
            yield member


def bend(piece: Piece, member: Member, change: Change = AS_DRAWN) -> Bent | None:
    """Bend a member both ways that it can; None where it has no support or no stiffness known."""
    if member.plate:
        return _plate(piece, member, change)
    found = [one for way in member.ways if (one := _bend(piece, member, way, change)) is not None]
    return min(found, key=lambda one: one.now, default=None)


def _bend(piece: Piece, member: Member, way: Way, change: Change) -> Bent | None:
    panel = member.panel
    thickness = change.thickness or panel.size[2]
    modulus = stiffness(piece, panel, way.axis, thickness)
    factor = creep(piece, panel)
    if modulus is None or factor is None:
        return None
    section = _section(piece, member, way, (thickness, change.lip, modulus.value))
    across = panel.size[1 - way.axis] if way.axis == 1 else _breadth(member)
    weight = own_weight(piece, panel, thickness)
    if change.spans > 1 and way.axis == 0:
        way = divided(way, change.spans)
    along = (member.pressure + weight) * across
    now = list(continuous_sag(way.spans, along, section))
    if member.point:
        place = max(range(len(now)), key=lambda one: way.spans[one])
        now[place] += sag(Loading.MIDSPAN, member.point, way.spans[place], section)
    return Bent(
        way=way,
        at_once=tuple(now),
        in_time=tuple(one * (1 + factor.value) for one in now),
        stiff=f"E {modulus.value:.0f} MPa, {modulus.source}",
        along=panel.grain_along((1.0, 0.0, 0.0) if way.axis == 0 else (0.0, 1.0, 0.0)),
        creeping=f"creep factor {1 + factor.value:g} ({factor.source})",
    )


def _plate(piece: Piece, member: Member, change: Change) -> Bent | None:
    """A drawer bottom: held along all four edges, so it spans both ways at once."""
    panel = member.panel
    thickness = change.thickness or panel.size[2]
    moduli = tuple(stiffness(piece, panel, axis, thickness) for axis in (0, 1))
    factor = creep(piece, panel)
    along, across = moduli
    if along is None or across is None or factor is None:
        return None
    made = plate((panel.size[0], panel.size[1]), thickness, (along.value, across.value))
    now = made.sag(member.pressure + own_weight(piece, panel, thickness))
    shorter = min(member.ways, key=lambda way: way.spans[0])
    return Bent(
        way=shorter,
        at_once=(now,),
        in_time=(now * (1 + factor.value),),
        stiff=f"E {along.value:.0f} and {across.value:.0f} MPa both ways, {along.source}; "
        f"{across.source}",
        along=panel.grain_along((1.0, 0.0, 0.0) if shorter.axis == 0 else (0.0, 1.0, 0.0)),
        creeping=f"creep factor {1 + factor.value:g} ({factor.source})",
    )


def _breadth(member: Member) -> float:
    """The depth that carries load: the panel's and its edgings'."""
    lips = sum(lip.size[1] for lip in member.lips if not lip.name.startswith("rail"))
    return member.panel.size[1] + lips


def divided(way: Way, into: int) -> Way:
    """Each span of ``way`` parted by further supports."""
    places = [way.places[0]]
    for a, b in pairwise(way.places):
        places += [a + (b - a) * step / into for step in range(1, into + 1)]
    return Way(axis=way.axis, places=tuple(places))


def _section(piece: Piece, member: Member, way: Way, made: tuple[float, float, float]) -> Section:
    thickness, lip, modulus = made
    panel = member.panel
    if way.axis == 1:
        return rectangle(panel.size[0], thickness, modulus)
    parts = strips(piece, member, thickness, modulus)
    if lip:
        wide, stiff = _lip_stock(piece, member, modulus)
        parts = (parts[0], Strip(wide=wide, high=lip, down=lip / 2, stiffness=stiff))
    return composite(parts)


def _lip_stock(piece: Piece, member: Member, modulus: float) -> tuple[float, float]:
    """Thickness and stiffness of a lip: the edging's that is there, else 20 mm of the panel's E."""
    for lip in member.lips:
        material = piece.material(lip)
        known = wood.stiffness(material.species) if isinstance(material, Lumber) else None
        if known is not None:
            return (lip.size[1], known.value)
    return (LIP_THICKNESS, modulus)


def _finding(piece: Piece, member: Member, bent: Bent) -> Finding | None:
    jam = _jam(member, bent)
    if jam is not None:
        left = jam.gap - LEFT_OF_GAP
        return _said(
            piece,
            member,
            bent,
            severity=Severity.ERROR,
            limit=left,
            source=GAP_SOURCE,
            lead=f"after creep it sags {bent.under(jam):.1f} mm over {jam.front.spoken}, which "
            f"stands {jam.gap:.1f} mm below it and jams",
            enough=lambda one: all(
                one.under(over) <= over.gap - LEFT_OF_GAP for over in member.over
            ),
        )
    for severity, value, part, source in _limits(bent):
        if value > bent.span / part:
            return _said(
                piece,
                member,
                bent,
                severity=severity,
                limit=bent.span / part,
                source=source,
                lead=_lead(bent),
                enough=partial(_passes, part=part),
            )
    return None


def _jam(member: Member, bent: Bent) -> Over | None:
    """The front that a sagging panel comes down on, the worst of them."""
    close = [over for over in member.over if bent.under(over) > over.gap - LEFT_OF_GAP]
    return max(close, key=lambda over: bent.under(over) - over.gap, default=None)


def _limits(bent: Bent) -> tuple[tuple[Severity, float, float, str], ...]:
    return (
        (Severity.ERROR, bent.now, AWS, AWS_SOURCE),
        (Severity.WARNING, bent.now, shelf_test(bent.span), SHELF_TEST_SOURCE),
        (Severity.WARNING, bent.later, AWS, f"{AWS_SOURCE}, after creep"),
        (Severity.NOTE, bent.later, TO_THE_EYE, TO_THE_EYE_SOURCE),
    )


def _passes(bent: Bent, part: float) -> bool:
    """Whether a member passes L/``part`` and every coarser limit in each of its spans."""
    return all(
        now <= span / min(part, shelf_test(span))
        and later <= span / (TO_THE_EYE if part == TO_THE_EYE else AWS)
        for span, now, later in zip(bent.way.spans, bent.at_once, bent.in_time, strict=True)
    )


def _lead(bent: Bent) -> str:
    return f"it sags {bent.now:.1f} mm at once and {bent.later:.1f} mm after creep"


def _said(  # noqa: PLR0913 - one finding's parts
    piece: Piece,
    member: Member,
    bent: Bent,
    *,
    severity: Severity,
    limit: float,
    source: str,
    lead: str,
    enough: Callable[[Bent], bool],
) -> Finding:
    jam = _jam(member, bent)
    value = bent.under(jam) if jam is not None else _value(bent, source)
    grain = "along" if bent.along else "across"
    return Finding(
        code=member.code,
        severity=severity,
        subject=member.panel.spoken,
        message=f"{lead}, over {bent.span:.0f} mm under {member.load} and its own weight "
        f"(L/144 {bent.span / AWS:.1f}, L/192 {bent.span / SHELF_TEST:.1f}, to the eye L/384 "
        f"{bent.span / TO_THE_EYE:.1f} mm; face grain {grain} the span, {bent.stiff}; "
        f"{bent.creeping}); enough would be {_mend(piece, member, enough)}",
        copies=(member.panel.id,),
        at=member.panel.middle,
        value=round(value, 6),
        limit=round(limit, 6),
        unit="mm",
        source=source,
    )


def _value(bent: Bent, source: str) -> float:
    return bent.now if source in (AWS_SOURCE, SHELF_TEST_SOURCE) else bent.later


def _mend(piece: Piece, member: Member, enough: Callable[[Bent], bool]) -> str:
    """What would be enough: thickness, a lip under the front edge, a divider; whichever can."""

    def does(change: Change) -> bool:
        one = bend(piece, member, change)
        return one is not None and enough(one)

    ways: list[str] = []
    thick = member.panel.size[2]
    steps = (thick + 0.5 * step for step in range(1, int((THICKEST - thick) * 2)))
    thicker = next((one for one in steps if does(Change(thickness=one))), None)
    if thicker is not None:
        ways.append(f"{thicker:.1f} mm thick")
    if any(way.axis == 0 for way in member.ways) and member.code != "sag.drawer_bottom":
        lips = (thick + 5.0 * step for step in range(1, int((TALLEST - thick) / 5)))
        lip = next((one for one in lips if does(Change(lip=one))), None)
        if lip is not None:
            ways.append(f"a solid front edging {lip:.0f} mm high")
        if does(Change(spans=2)):
            ways.append("one more divider in the middle of the span")
    return ", or ".join(ways) or "a shorter span or a lighter load"


def _unknown(member: Member) -> Finding:
    return Finding(
        code="sag.unknown",
        severity=Severity.NOTE,
        subject=member.panel.spoken,
        message=f"no stiffness or creep is known of {member.panel.part.material}, so its sag is "
        "not worked; load it before it is trusted, or name a material of the tables",
        copies=(member.panel.id,),
        source="no published value at hand",
    )


def _summary(fine: list[tuple[Placed, Bent]]) -> Finding:
    """The members that pass everything, and the one nearest to its limit."""
    panel, bent = max(fine, key=lambda one: one[1].later / one[1].span)
    names = ", ".join(dict.fromkeys(one.name for one, _ in fine))
    return Finding(
        code="sag.within",
        severity=Severity.NOTE,
        subject=names,
        message=f"within L/144 and L/192 at once and what shows to the eye after creep; nearest: "
        f"{panel.spoken}, {bent.now:.2f} mm at once and {bent.later:.2f} mm after creep over "
        f"{bent.span:.0f} mm ({bent.stiff}; {bent.creeping})",
        copies=tuple(one.id for one, _ in fine),
        value=round(bent.later, 6),
        limit=round(bent.span / TO_THE_EYE, 6),
        unit="mm",
        source=TO_THE_EYE_SOURCE,
    )
