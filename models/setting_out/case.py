"""The case: top, bottom and sides from the outside in, on measured thickness.

Outside sizes are finished sizes, edging included. Only edges that show are edged.
"""

import math
from dataclasses import replace
from typing import Final

from ground.findings import FROM_THE_SPEC, Finding, Severity
from ground.tolerances import LENGTH_EPS, close
from ground.vectors import Plane, Vec, X, Y, Z, neg
from models.parts.blank import Grain
from models.parts.features import Trim, TrimKind
from models.parts.part import PartKind
from models.setting_out.bench import Bench
from models.setting_out.corner_ways import corner_way
from models.setting_out.corners import CornerPlace, join_square
from models.setting_out.draft import Box, Draft, blank, lying
from models.setting_out.edging import Strip, edge
from models.setting_out.mitres import join_mitre
from models.setting_out.numbers import CaseNumbers
from models.setting_out.trouble import trouble
from specs.case import Case, CaseGrain, CornerKind, Enters, GroovedBack, RabbetedBack
from specs.edging import EdgedSides, EdgingCorners, SolidEdging, TapeEdging
from specs.materials import Lumber, Sheet, SheetGrain
from specs.spec import Spec

GROOVE_CLEARANCE: Final = 0.1
"""The back's groove is wider than the back by this on either side (mm). Common practice, no
source."""


def case_numbers(spec: Spec) -> CaseNumbers:
    """Every size of the case that the rest of the piece asks for.

    Raises:
        SettingOutError: the sizes leave no room inside.
    """
    case, size = spec.case, spec.case.size
    panel = sheet_thickness(spec, case.material)
    floor = spec.base.height
    edging = case.edging or EdgedSides()
    front = edging.front.thickness if edging.front else 0.0
    rear = size.depth - (edging.back.thickness if edging.back else 0.0)
    back_rear = size.depth - (case.back.set_in if isinstance(case.back, GroovedBack) else 0.0)
    back_front = back_rear - sheet_thickness(spec, case.back.material)
    below = isinstance(case.back, GroovedBack) and case.back.enters is Enters.FROM_BELOW
    ways = corner_way(case, "bottom", panel), corner_way(case, "top", panel)
    lifted, sunk = (way.lifted if way.in_sides else 0.0 for way in ways)
    inner = _sides_in(case, panel) + panel
    clear = Box(
        (inner, 0.0, floor + lifted + panel),
        (size.length - inner, back_front, floor + size.height - sunk - panel),
    )
    _must_hold(clear, front)
    lumber = edging.front.material if isinstance(edging.front, SolidEdging) else None
    return CaseNumbers(
        outside=Box((0.0, 0.0, floor), (size.length, size.depth, floor + size.height)),
        clear=clear,
        panel=panel,
        front=front,
        rear=rear,
        bottom_rear=back_front if below else rear,
        groove_front=back_front - GROOVE_CLEARANCE,
        groove_rear=back_rear + GROOVE_CLEARANCE,
        lumber=lumber,
    )


def _sides_in(case: Case, panel: float) -> float:
    """How far the sides stand in from the case's ends: set into dadoes of top and bottom (mm).

    Raises:
        SettingOutError: top and bottom set them in differently.
    """
    ways = corner_way(case, "top", panel), corner_way(case, "bottom", panel)
    top, bottom = (0.0 if way.in_sides else way.lifted for way in ways)
    if not close(top, bottom):
        raise trouble(
            ("case", "corners", "bottom"),
            f"sets the sides in {bottom:.1f} mm, the top {top:.1f} mm; make both the same",
        )
    return top


def sheet_thickness(spec: Spec, material: str) -> float:
    """The thickness that everything made of ``material`` is worked from (mm).

    Raises:
        KeyError: lumber has no thickness of its own.
    """
    found = spec.materials[material]
    if isinstance(found, Sheet):
        return found.thickness_used
    raise KeyError(material)


def _must_hold(clear: Box, front: float) -> None:
    names = ("length", "depth", "height")
    for axis, name in enumerate(names):
        room = clear.size[axis] - (front if name == "depth" else 0.0)
        if room <= 0.0:
            raise trouble(
                ("case", "size", name),
                f"leaves {room:.1f} mm inside between panels, edging and back; make it larger",
            )


def lay_case(bench: Bench, spec: Spec, case: CaseNumbers) -> None:
    """Lay out the four panels, join their corners and edge them."""
    for upper in (1, -1):
        _panel(bench, spec, case, upper)
    for hand in (-1, 1):
        _side(bench, spec, case, hand)
    for upper, which in ((1, "top"), (-1, "bottom")):
        corner = corner_way(spec.case, which, case.panel)
        joint = spec.case.joints.top if upper > 0 else spec.case.joints.bottom
        for hand, side in ((-1, "left"), (1, "right")):
            place = CornerPlace(
                panel=f"case/{which}",
                side=f"case/side {side}",
                hand=hand,
                upper=upper,
                span=(case.front, case.bottom_rear if upper < 0 else case.rear),
            )
            if corner.kind is CornerKind.MITRE:
                join_mitre(bench, case, joint, place)
            else:
                join_square(bench, case, corner, joint, place)
    if spec.case.edging is not None:
        _edge_front(bench, spec.case, case)
        _edge_back(bench, spec.case, case)


def panel_draft(spec: Spec, material: str, key: str, box: Box, ways: tuple[Vec, Vec]) -> Draft:
    """A board of sheet goods that fills ``box``; ``ways`` are its length and its show side."""
    size, frame = lying(box, length=ways[0], up=ways[1])
    found = spec.materials[material]
    none = isinstance(found, Sheet) and found.grain is SheetGrain.NONE
    return Draft(
        key=key,
        letter="C",
        name=key.rsplit("/", maxsplit=1)[-1],
        group=(key.split("/", maxsplit=1)[0],),
        kind=PartKind.LUMBER if isinstance(found, Lumber) else PartKind.SHEET,
        material=material,
        blank=blank(size, grain=Grain.NONE if none else Grain.LENGTH),
        frame=frame,
        show="top",
    )


def _panel(bench: Bench, spec: Spec, case: CaseNumbers, upper: int) -> None:
    which = "top" if upper > 0 else "bottom"
    inset = corner_way(spec.case, which, case.panel).panel_inset(case.panel)
    out = case.outside
    low = case.clear.hi[2] if upper > 0 else case.clear.lo[2] - case.panel
    rear = case.rear if upper > 0 else case.bottom_rear
    box = Box((inset, case.front, low), (out.hi[0] - inset, rear, low + case.panel))
    # Both show their upper face: the bottom is looked at from inside the case.
    bench.put(panel_draft(spec, spec.case.material, f"case/{which}", box, (X, Z)))


def _side(bench: Bench, spec: Spec, case: CaseNumbers, hand: int) -> None:
    out, asked, t = case.outside, spec.case, case.panel
    low = out.lo[2] + corner_way(asked, "bottom", t).side_inset(t)
    high = out.hi[2] - corner_way(asked, "top", t).side_inset(t)
    near = case.clear.lo[0] - t if hand < 0 else case.clear.hi[0]
    box = Box((near, case.front, low), (near + case.panel, case.rear, high))
    upright = spec.case.grain is not CaseGrain.LEVEL_SIDES
    key = f"case/side {'left' if hand < 0 else 'right'}"
    outward = neg(X) if hand < 0 else X
    draft = panel_draft(spec, spec.case.material, key, box, (Z if upright else Y, outward))
    draft.name = "side"
    bench.put(draft)


def _edge_front(bench: Bench, spec: Case, case: CaseNumbers) -> None:
    """Four strips round the front, mitred like a frame or butted where the panels are."""
    edging = spec.edging.front if spec.edging else None
    if edging is None:
        return
    mitred = isinstance(edging, SolidEdging) and edging.corners is EdgingCorners.MITRE
    all_mitred = all(
        corner.kind is CornerKind.MITRE for corner in (spec.corners.top, spec.corners.bottom)
    )
    for key, box, length in _front_boxes(spec, case, mitred=mitred):
        trims = _frame_trims(spec, case, box) if mitred else ()
        strip = Strip(
            box=box, length=length, outward=neg(Y), trims=trims, after=mitred and not all_mitred
        )
        edge(bench, bench.drafts[key], edging, strip)


def _front_boxes(spec: Case, case: CaseNumbers, *, mitred: bool) -> list[tuple[str, Box, Vec]]:
    out, t = case.outside, case.panel
    found: list[tuple[str, Box, Vec]] = []
    ends = {"bottom": out.lo[2], "top": out.hi[2]}
    # Butted strips: the sides' run through, unless the top's or bottom's panel covers their ends.
    # What is set in from the other panel's end cannot be mitred with it.
    ways = {which: corner_way(spec, which, t) for which in ends}
    framed = {which: mitred and ways[which].lifted == 0.0 for which in ends}
    over = {which: not framed[which] and ways[which].side_inset(t) > 0 for which in ends}
    for which, level in (("top", case.clear.hi[2]), ("bottom", case.clear.lo[2] - t)):
        inset = 0.0 if framed[which] or over[which] else t
        box = Box((inset, 0.0, level), (out.hi[0] - inset, case.front, level + t))
        found.append((f"case/{which}", box, X))
    low = ends["bottom"] + (t if over["bottom"] else 0.0)
    high = ends["top"] - (t if over["top"] else 0.0)
    for side, near in (("left", case.clear.lo[0] - t), ("right", case.clear.hi[0])):
        box = Box((near, 0.0, low), (near + t, case.front, high))
        found.append((f"case/side {side}", box, Z))
    return found


def _frame_trims(spec: Case, case: CaseNumbers, box: Box) -> tuple[Trim, ...]:
    """The mitre at each end of a strip of the front's frame, each through a corner of the case.

    Where a panel is set in from the sides' ends, its strip stands between theirs.
    """
    out, half = case.outside, math.sqrt(0.5)
    level = box.size[0] > box.size[2]
    ends: list[Trim] = []
    for x, z in ((x, z) for x in (out.lo[0], out.hi[0]) for z in (out.lo[2], out.hi[2])):
        # A strip's end and the case's corner come out of different sums, so never compare exactly.
        touches = all(
            box.lo[axis] - LENGTH_EPS <= at <= box.hi[axis] + LENGTH_EPS
            for axis, at in ((0, x), (2, z))
        )
        which = "top" if z == out.hi[2] else "bottom"
        if not touches or corner_way(spec, which, case.panel).lifted > 0.0:
            continue
        away_x, away_z = (-half if x == out.lo[0] else half), (-half if z == out.lo[2] else half)
        # A level strip keeps what lies towards the middle of the piece, an upright one the rest.
        normal = (away_x, 0.0, -away_z) if level else (-away_x, 0.0, away_z)
        ends.append(
            Trim(
                kind=TrimKind.MITRE,
                plane=Plane.through((x, 0.0, z), normal),
                made_by="case.edging.front",
            )
        )
    return tuple(ends)


def _edge_back(bench: Bench, spec: Case, case: CaseNumbers) -> None:
    """The rear edges that show: top and sides, and the bottom where the back stands on it."""
    edging = spec.edging.back if spec.edging else None
    if edging is None:
        return
    rear_y, full = case.rear, case.outside.hi[1]
    captive = not isinstance(spec.back, RabbetedBack) and spec.back.enters is Enters.CAPTIVE
    keys = ["case/top", "case/side left", "case/side right", *(["case/bottom"] if captive else [])]
    for key in keys:
        host = bench.drafts[key]
        corner = host.frame.point((0.0, 0.0, 0.0)), host.frame.point(host.blank.size)
        lo = tuple(min(a, b) for a, b in zip(*corner, strict=True))
        hi = tuple(max(a, b) for a, b in zip(*corner, strict=True))
        box = _seen(spec, case, key, Box((lo[0], rear_y, lo[2]), (hi[0], full, hi[2])))
        length = X if key in ("case/top", "case/bottom") else Z
        laid = edge(bench, host, edging, Strip(box=box, length=length, outward=Y))
        # What the panel's ends are cut to, its tape is cut to with them.
        ends = [f for f in host.features if isinstance(f, Trim)]
        bench.cut(laid.key, [replace(f.moved(host.frame), made_by=f.made_by) for f in ends])
        if isinstance(edging, TapeEdging) and edging.species is not None:
            laid.note = f"{edging.species}; {laid.note}"


def _seen(spec: Case, case: CaseNumbers, key: str, box: Box) -> Box:
    """What of a panel's rear edge is seen: an end let into another is under that one's tape."""
    lo, hi, clear = list(box.lo), list(box.hi), case.clear
    for which in ("bottom", "top"):
        corner = corner_way(spec, which, case.panel)
        if corner.kind is CornerKind.MITRE:
            continue
        if corner.level and key == f"case/{which}":
            lo[0], hi[0] = clear.lo[0], clear.hi[0]
        if not corner.level and key.startswith("case/side"):
            lo[2] = clear.lo[2] if which == "bottom" else lo[2]
            hi[2] = clear.hi[2] if which == "top" else hi[2]
    return Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))


def grain_note(spec: Spec) -> Finding | None:
    """Say so where continuous grain is asked of a sheet without grain."""
    found = spec.materials[spec.case.material]
    grainless = isinstance(found, Sheet) and found.grain is SheetGrain.NONE
    if spec.case.grain is not CaseGrain.CONTINUOUS or not grainless:
        return None
    return Finding(
        code="grain.none",
        severity=Severity.NOTE,
        subject="case.grain",
        message="continuous grain is asked of a sheet that has none; nothing to match",
        source=FROM_THE_SPEC,
    )
