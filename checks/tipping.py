"""Will it stand: load cases of storage-furniture practice about every edge of its feet.

A static estimate; never a test and never a certificate.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from checks.contents import Content, contents, far_edge, feet, opened, standing
from checks.placed import GRAVITY, Piece, Weight
from checks.statics import Edge, Load, Moments, ballast, edges, moments
from ground.findings import COMMON_PRACTICE, Finding, Severity
from models.parts.assembly import HardwareLine
from models.setting_out.anchor import SCREW

CHILD = 27.216
"""Weight of a child on an open front, kg: 60 lb (ASTM F2057-23, 16 CFR 1261)."""
PULL = 44.48
"""Level pull at the highest hand-hold, N: 10 lbf (from memory, medium confidence: F2057-23)."""
HIGHEST_HOLD = 1422.0
"""A hand-hold is not above this, mm: 56 in (from memory, medium confidence: ASTM F2057-23)."""
CARPET = 10.9
"""Block under the rear feet that stands for carpet, mm: 0.43 in (from memory, medium confidence:
ASTM F2057-23)."""
ANCHOR_HEIGHT = 686.0
"""A piece this high is anchored whatever its ratios, mm: 27 in (scope of ASTM F2057-23)."""
MARGIN = 1.1
"""The ratio that ballast is worked for. Common practice, no source."""
CLOSED = "tip.closed"
LATERAL = 27.6
"""What a wood screw holds square to itself in side grain: p = K D^2 in N and mm, K of woods from
0.43 to 0.56 of specific gravity, 4000 psi (from memory, low confidence: Wood Handbook, lateral
resistance of wood screws). Panels count as solid wood."""
ANCHORS = 2
"""Anchors for a piece that needs any, at least. Common practice, no source."""
SOURCE = "ratio of restoring to overturning moment, load cases after ASTM F2057 and 16 CFR 1261"


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One load case: what tips it, about the edge that tips first; contents of closed parts out.

    ``present`` is the ratio with those contents in.
    """

    code: str
    words: str
    edge: Edge
    found: Moments
    present: float
    tilt: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Setting:
    """What stands open, what is in it, and a weight somewhere."""

    open_: frozenset[str] = frozenset()
    filled: bool = False
    weight: Weight | None = None
    push: float = 0.0
    height: float = 0.0


@lru_cache(maxsize=1)  # three of the checks ask for the cases of the piece in hand
def cases(piece: Piece) -> tuple[Case, ...]:
    """Every load case at its worst edge."""
    ground = edges(feet(piece))
    if not ground:
        return ()
    inside = contents(piece)
    everything = frozenset(piece.movers)
    found = [_worst(piece, ground, inside, _Setting(), (CLOSED, "empty and closed"))]
    if everything:
        all_open = _Setting(open_=everything)
        loaded = _Setting(open_=everything, filled=True)
        found += [
            _worst(piece, ground, inside, all_open, ("tip.all_open", "all open, empty")),
            _worst(piece, ground, inside, loaded, ("tip.all_open_loaded", "all open and loaded")),
            *_weight_on_fronts(piece, ground, inside),
        ]
    hold = min(piece.hi[2], HIGHEST_HOLD)
    pulled = _Setting(push=PULL, height=hold)
    words = f"closed and empty, pulled with {PULL:g} N at {hold:.0f} mm"
    return (*found, _worst(piece, ground, inside, pulled, ("tip.pull", words)))


def _weight_on_fronts(
    piece: Piece, ground: tuple[Edge, ...], inside: tuple[Content, ...]
) -> Iterator[Case]:
    """A child's weight on the one front that is worst, on a level floor and on carpet."""
    for tilted in (False, True):
        tried: list[Case] = []
        for mover in piece.movers.values():
            weight = Weight(kg=CHILD, at=far_edge(piece, mover))
            setting = _Setting(open_=frozenset((mover.id,)), weight=weight)
            words = f"{mover.id} open alone, empty, with {CHILD:.1f} kg on its edge"
            name = ("tip.carpet", f"{words}, on carpet") if tilted else ("tip.weight", words)
            case = _worst(piece, ground, inside, setting, name, tilted=tilted)
            tried.append(case)
        yield min(tried, key=lambda case: case.found.ratio)


def _worst(
    piece: Piece,
    ground: tuple[Edge, ...],
    inside: tuple[Content, ...],
    setting: _Setting,
    name: tuple[str, str],
    *,
    tilted: bool = False,
) -> Case:
    tried: list[Case] = []
    weights = standing(piece, open_=setting.open_)
    weights += _loaded(piece, inside, setting)
    closed = [Weight(kg=one.kg, at=one.at) for one in inside if one.mover not in setting.open_]
    for edge in ground:
        tilt = _tilt(ground, edge) if tilted else 0.0
        if tilted and edge.name != "front":
            continue
        loads = [edge.load(one.kg, one.at) for one in weights]
        with_closed = [*loads, *(edge.load(one.kg, one.at) for one in closed)]
        tried.append(
            Case(
                code=name[0],
                words=name[1],
                edge=edge,
                found=_about(loads, setting, tilt),
                present=_about(with_closed, setting, tilt).ratio,
                tilt=tilt,
            )
        )
    return min(tried, key=lambda case: case.found.ratio)


def _loaded(piece: Piece, inside: Iterable[Content], setting: _Setting) -> list[Weight]:
    """Contents of what stands open where it is filled, and somebody's weight."""
    found = [
        Weight(kg=one.kg, at=opened(piece.movers[one.mover], one.at))
        for one in inside
        if setting.filled and one.mover is not None and one.mover in setting.open_
    ]
    return found if setting.weight is None else [*found, setting.weight]


def _about(loads: Iterable[Load], setting: _Setting, tilt: float) -> Moments:
    return moments(loads, tilt=tilt, push=setting.push, height=setting.height)


def _tilt(ground: tuple[Edge, ...], front: Edge) -> float:
    """The angle that a block under the feet furthest from an edge gives (degrees)."""
    deep = max(-edge.load(1.0, (*spot, 0.0)).out for edge in (front,) for spot in _spots(ground))
    return math.degrees(math.atan(CARPET / deep)) if deep > 0 else 0.0


def _spots(ground: tuple[Edge, ...]) -> list[tuple[float, float]]:
    return [edge.start for edge in ground]


def find_tipping(piece: Piece) -> Iterator[Finding]:
    """Say where it would tip, and every ratio."""
    worked = cases(piece)
    if not worked:
        yield Finding(
            code="tip.no_feet",
            severity=Severity.NOTE,
            subject="the piece",
            message="fewer than three feet reach the floor, so whether it stands is not worked",
            source=COMMON_PRACTICE,
        )
        return
    ask = _ask(max(anchor_force(piece, case)[0] for case in worked))
    for case in worked:
        if case.found.ratio < 1:
            yield _tips(piece, case, ask)
    high = piece.hi[2] - piece.lo[2]
    if high >= ANCHOR_HEIGHT and piece.spec.case.anchor is None:
        yield Finding(
            code="tip.high",
            severity=Severity.WARNING,
            subject="the piece",
            message=f"it is {high:.0f} mm high and no wall anchor is asked for; anchor a piece of "
            f"{ANCHOR_HEIGHT:g} mm or more whatever its ratios: {ask} (it is on the hardware list)",
            value=round(high, 6),
            limit=ANCHOR_HEIGHT,
            unit="mm",
            source="scope of ASTM F2057-23, 27 in",
        )
    yield _ratios(piece, worked)


def _tips(piece: Piece, case: Case, ask: str) -> Finding:
    anchored = piece.spec.case.anchor is not None
    mass = _ballast(piece, case)
    heavy = f"{mass:.1f} kg fixed low at the opposite side" if mass < math.inf else "a wider stance"
    force, high = anchor_force(piece, case)
    holds = f"it has to hold {force:.0f} N, {high:.0f} mm up"
    mend = (
        f"the wall anchor of the spec must be fitted before it is used; {holds}"
        if anchored
        else f"anchor it to the wall ({ask}; it is on the hardware list; {holds}), or "
        f"add {heavy} for a ratio of {MARGIN:g}"
    )
    # What does not stand closed cannot be used; the rest is a risk that an anchor takes away.
    serious = Severity.ERROR if case.code == CLOSED else Severity.WARNING
    return Finding(
        code=case.code,
        severity=Severity.NOTE if anchored else serious,
        subject="the piece",
        message=f"{case.words}: it tips over its {case.edge.name} feet; ratio = "
        f"{case.found.ratio:.2f} with the contents of closed parts absent, {_said(case.present)} "
        f"with them in{_tilted(case)}; {mend}",
        value=round(case.found.ratio, 6),
        limit=1.0,
        source=SOURCE,
    )


def _ballast(piece: Piece, case: Case) -> float:
    """Mass at the far side of the case, low down, that brings the ratio to the margin."""
    lo, hi = piece.lo, piece.hi
    low = piece.spec.base.height
    places = [(x, y, low) for x in (lo[0], hi[0]) for y in (lo[1], hi[1])]
    middle = ((lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2)
    behind = max(-case.edge.load(1.0, place).out for place in places)
    centre = -case.edge.load(1.0, (*middle, low)).out
    arm = (behind + centre) / 2  # three quarters of the way back: something must hold it
    return ballast(case.found, arm, low, tilt=case.tilt, wanted=MARGIN)


def anchor_force(piece: Piece, case: Case) -> tuple[float, float]:
    """What an anchor at the top of the back has to hold (N) for the margin, and how high (mm)."""
    high = piece.hi[2]
    short = MARGIN * case.found.overturning - case.found.restoring
    return (max(short, 0.0) * GRAVITY / high, high)


def anchor_holds() -> float:
    """What one anchor holds by its screw into the top (N); the wall is the maker's to judge."""
    return LATERAL * SCREW.shank**2


def anchors_needed(force: float) -> int:
    """How many anchors hold a force (N)."""
    return max(ANCHORS, math.ceil(force / anchor_holds()))


def _ask(force: float) -> str:
    """What the spec says to have wall anchors."""
    return f"case: {{anchor: {{count: {anchors_needed(force)}}}}}"


def _said(ratio: float) -> str:
    return f"{ratio:.2f}" if ratio < math.inf else "nothing tips it"


def _tilted(case: Case) -> str:
    return f" (floor tilted {case.tilt:.2f} degrees)" if case.tilt else ""


def _ratios(piece: Piece, worked: tuple[Case, ...]) -> Finding:
    told = "; ".join(
        f"{case.words}, {case.edge.name} feet: ratio = {_said(case.found.ratio)} "
        f"({_said(case.present)} with closed contents)"
        for case in worked
    )
    worst = min(case.found.ratio for case in worked)
    return Finding(
        code="tip.ratios",
        severity=Severity.NOTE,
        subject="the piece",
        message=f"{piece.kg:.1f} kg without hardware, centre of gravity {_centre(piece)}; for the "
        f"stated cases: {told}",
        value=round(worst, 6) if worst < math.inf else None,
        limit=1.0 if worst < math.inf else None,
        source=SOURCE,
    )


def _centre(piece: Piece) -> str:
    """The middle of all that is weighed, closed, in words."""
    x, y, z = piece.centre
    lo = piece.lo
    return f"{x - lo[0]:.0f} from its left, {y - lo[1]:.0f} from its front, {z:.0f} mm up"


def anchors(piece: Piece, findings: Iterable[Finding]) -> tuple[HardwareLine, ...]:
    """The wall anchor for the hardware list, where it is needed and not there yet."""
    needed = piece.hi[2] - piece.lo[2] >= ANCHOR_HEIGHT or any(
        found.code.startswith("tip.")
        and found.value is not None
        and found.limit == 1.0
        and found.value < 1
        for found in findings
    )
    listed = any("anchor" in line.name for line in piece.assembly.hardware)
    if listed or not (needed or piece.spec.case.anchor is not None):
        return ()
    asked = piece.spec.case.anchor
    return (
        HardwareLine(
            name="wall anchor",
            quantity=_quantity(piece) if asked is None else asked.count,
            for_what="back of the case to the wall",
            note="a restraint suited to the wall; fit it before the piece is used",
        ),
    )


def _quantity(piece: Piece) -> int:
    """As many anchors as the worst load case needs."""
    return anchors_needed(max((anchor_force(piece, case)[0] for case in cases(piece)), default=0.0))
