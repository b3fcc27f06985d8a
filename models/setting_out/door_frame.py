"""Frame-and-panel doors: stiles and rails grooved for a panel that is free to move.

Rails stand between the stiles. The stiles' grooves stop where the panel does, so that nothing comes
out on the door's ends; the rails' run through, hidden by the stiles.
"""

from dataclasses import dataclass
from typing import Final

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.vectors import Vec, X, Y, Z, neg
from models.parts.assembly import Sum
from models.parts.features import Channel, ChannelKind, Seat
from models.parts.joints.kit import Halves
from models.parts.part import Stage
from models.setting_out.bench import Bench
from models.setting_out.door_numbers import DoorNumbers, DoorParts
from models.setting_out.draft import Box
from models.setting_out.holding import hold, reach
from models.setting_out.meeting import Closing, Meeting
from models.setting_out.numbers import Leaf
from models.setting_out.softwood import is_hard
from models.setting_out.stock import FITTED, Board, Stock, board, is_lumber, thickness
from models.setting_out.trouble import trouble
from specs.doors import PanelDoors
from specs.hardware import CupHinge, Hinge
from specs.joints import ApronJoint, JointKind, MortiseAndTenonJoint, PocketScrewJoint
from specs.spec import Spec

PLAY: Final = 0.2
"""A panel's groove is this much wider than what goes into it (mm). Common practice, no source."""
SHORT: Final = 1.0
"""A sheet, and lumber along its grain, ends this far short of a groove's floor (mm; check values
7.3: 0.5 to 1)."""
MOVES: Final = 0.5
"""Across its grain a lumber panel fills this part of each groove: it may grow and shrink by the
rest. Common practice, no source."""
WALL: Final = 5.0
"""Least wood beside a panel's groove (mm). Common practice, no source."""
THIRD: Final = 1 / 3
"""A groove takes no more than a third of a thick frame (check values 7.3)."""
FROM_END: Final = 8.0
"""A joint keeps this far from the end of a stile (mm; check values 7.3: 10 to 12 on a leg). Common
practice, no source."""
LEAST_INSIDE: Final = 20.0
"""A panel that shows less than this either way is none (mm). Common practice, no source."""
TWO_POCKETS: Final = 50.0
"""A rail at least this wide takes two pocket screws an end (mm). Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelNumbers:
    """A door's frame worked out (mm): ``inside`` is what shows of the panel (piece axes).

    ``groove`` is its width, ``deep`` its depth, ``panel`` the panel's box, ``tongue`` what the
    panel's edges are thinned to (None: not at all).
    """

    inside: Box
    groove: float
    deep: float
    panel: Box
    tongue: float | None


def panel_numbers(spec: Spec, doors: PanelDoors, box: Box) -> PanelNumbers:
    """Work out the panel of a door that fills ``box``.

    Worked: door 300 x 500 x 20, stiles and rails 50, grooves 8 deep, a sheet of 6: it shows 200 x
    400 and is 200 + 2 x 7 = 214 wide and 400 + 2 x 7 = 414 high, its groove 6.2 wide. Of lumber it
    is 200 + 2 x 4 = 208 wide and may grow by 4 on each side.
    """
    frame, panel = doors.frame, doors.panel
    thick = thickness(spec, panel.material, panel.thickness)
    widest = frame.thickness - 2 * WALL
    tongue = None if thick <= widest else max(frame.thickness * THIRD, 3.0)
    in_groove = thick if tongue is None else tongue
    deep = frame.groove_depth
    across = deep * MOVES if is_lumber(spec, panel.material) else deep - SHORT
    middle = box.centre[1]
    inside = Box(
        (box.lo[0] + frame.stiles, box.lo[1], box.lo[2] + frame.rails),
        (box.hi[0] - frame.stiles, box.hi[1], box.hi[2] - frame.rails),
    )
    # The step of a thinned panel is on the inside of the door.
    front = middle - in_groove / 2
    return PanelNumbers(
        inside=inside,
        groove=in_groove + PLAY,
        deep=deep,
        panel=Box(
            (inside.lo[0] - across, front, inside.lo[2] - deep + SHORT),
            (inside.hi[0] + across, front + thick, inside.hi[2] + deep - SHORT),
        ),
        tongue=tongue,
    )


def lay_frame(
    bench: Bench, spec: Spec, leaf: Leaf, doors: PanelDoors, numbers: DoorNumbers
) -> DoorParts:
    """Lay out one frame-and-panel door.

    Raises:
        SettingOutError: the frame leaves no panel, or its grooves no frame.
    """
    worked = panel_numbers(spec, doors, numbers.box)
    _possible(leaf, doors, worked)
    joint = doors.frame.joint or MortiseAndTenonJoint(kind=JointKind.MORTISE_AND_TENON)
    maker = _Maker(bench, spec, doors, numbers, worked, joint)
    for left in (True, False):
        maker.stile(left=left)
    for upper in (False, True):
        maker.rail(upper=upper)
    maker.panel()
    if isinstance(joint, MortiseAndTenonJoint) and joint.haunch:
        bench.find(_no_haunch(numbers.id))
    bench.sums.append(
        Sum(
            subject=numbers.id,
            what="panel's width",
            terms=(
                ("door", numbers.box.size[0]),
                ("stile", -doors.frame.stiles),
                ("stile", -doors.frame.stiles),
                ("in grooves", worked.panel.size[0] - worked.inside.size[0]),
            ),
        )
    )
    hinge, free = (True, False) if numbers.left else (False, True)
    return DoorParts(hinge=maker.stile_key(left=hinge), free=maker.stile_key(left=free))


def frame_findings(numbers: DoorNumbers, doors: PanelDoors, hinge: Hinge) -> tuple[Finding, ...]:
    """A hinge's cup must not come out in the panel's groove."""
    if not isinstance(hinge, CupHinge):
        return ()
    room = doors.frame.stiles - doors.frame.groove_depth
    need = hinge.cup_edge + hinge.cup_diameter
    if need <= room:
        return ()
    return (
        Finding(
            code="fitting.cup_in_groove",
            severity=Severity.ERROR,
            subject=numbers.id,
            message=f"the hinges' cups reach {need:.1f} mm into stiles that are whole for "
            f"{room:.1f} mm; make the stiles {need + doors.frame.groove_depth:.1f} mm wide",
            value=need,
            limit=room,
            unit="mm",
            source=COMMON_PRACTICE,
        ),
    )


def _no_haunch(door: str) -> Finding:
    return Finding(
        code="joint.haunch_not_needed",
        severity=Severity.NOTE,
        subject=door,
        message="the stiles' grooves stop short of their ends, so there is nothing for a haunch to "
        "fill; the tenons have none",
        source=COMMON_PRACTICE,
    )


def _possible(leaf: Leaf, doors: PanelDoors, worked: PanelNumbers) -> None:
    """Refuse a frame without a panel, and grooves that leave no frame.

    Raises:
        SettingOutError: either.
    """
    frame, (width, _, height) = doors.frame, worked.inside.size
    path = (*leaf.path, "doors", "frame")
    if min(width, height) < LEAST_INSIDE:
        message = (
            f"leaves a panel that shows {width:.1f} x {height:.1f} mm; make stiles and rails "
            f"narrower: {LEAST_INSIDE:.0f} mm either way is the least"
        )
        raise trouble((*path, "stiles" if width < height else "rails"), message)
    most = min(frame.stiles, frame.rails) / 2
    if not 2 * SHORT < frame.groove_depth <= most:
        message = (
            f"{frame.groove_depth:.1f} mm is no groove for stiles and rails {2 * most:.1f} mm "
            f"wide; write more than {2 * SHORT:.0f} and at most {most:.1f} mm"
        )
        raise trouble((*path, "groove_depth"), message)
    behind = worked.panel.hi[1] - worked.inside.hi[1]
    if behind > 0.0:
        message = (
            f"a panel {worked.panel.size[1]:.1f} mm thick stands {behind:.1f} mm out of the "
            f"frame's back; write at most {worked.panel.size[1] - behind:.1f} mm"
        )
        raise trouble((*leaf.path, "doors", "panel"), message)
    wall = (frame.thickness - worked.groove) / 2
    if wall < WALL - PLAY:
        message = (
            f"a frame {frame.thickness:.1f} mm thick leaves {wall:.1f} mm beside the panel's "
            f"groove; {2 * WALL + worked.groove:.1f} mm is the least"
        )
        raise trouble((*path, "thickness"), message)


@dataclass(frozen=True, slots=True)
class _Maker:
    """One door in the making."""

    bench: Bench
    spec: Spec
    doors: PanelDoors
    numbers: DoorNumbers
    worked: PanelNumbers
    joint: ApronJoint

    @property
    def stock(self) -> Stock:
        """Where the parts belong."""
        door = self.numbers.id
        return Stock(letter="F", group=("doors", door), mover=door, stage=Stage.TO_FIT)

    def stile_key(self, *, left: bool) -> str:
        """The key of a stile."""
        return f"{self.numbers.id}/{'left' if left else 'right'} stile"

    def rail_key(self, *, upper: bool) -> str:
        """The key of a rail."""
        return f"{self.numbers.id}/{'upper' if upper else 'lower'} rail"

    def put(self, key: str, name: str, box: Box, length: Vec, over: Vec) -> None:
        """Lay one board of the frame."""
        note = "plane the made-up door to its opening: the gap all round is in the drawing"
        it = Board(
            key=key,
            name=name,
            material=self.doors.frame.material,
            box=box,
            length=length,
            up=neg(Y),
            show="top",
            over=over,
            note=note if name == "door stile" else "",
        )
        self.bench.put(board(self.spec, self.stock, it))

    def stile(self, *, left: bool) -> None:
        """A stile as high as the door, grooved where the panel goes in."""
        box, worked = self.numbers.box, self.worked
        lo, hi = list(box.lo), list(box.hi)
        if left:
            hi[0] = worked.inside.lo[0]
        else:
            lo[0] = worked.inside.hi[0]
        whole = Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))
        key = self.stile_key(left=left)
        self.put(key, "door stile", whole, Z, (FITTED, FITTED / 2, 0.0))
        x = worked.inside.lo[0] if left else worked.inside.hi[0]
        start = worked.inside.lo[2] - worked.deep
        seat = Seat((x, box.centre[1], start), Z, neg(X) if left else X)
        self.groove(key, seat, worked.inside.size[2] + 2 * worked.deep)

    def rail(self, *, upper: bool) -> None:
        """A rail between the stiles, grooved from end to end, joined at both."""
        worked, box = self.worked, self.numbers.box
        height = self.doors.frame.rails
        let_in = reach(self.joint, (box.size[1], self.usable), self.doors.frame.stiles)
        low = worked.inside.hi[2] if upper else box.lo[2]
        whole = Box(
            (worked.inside.lo[0] - let_in, box.lo[1], low),
            (worked.inside.hi[0] + let_in, box.hi[1], low + height),
        )
        key = self.rail_key(upper=upper)
        self.put(key, "door rail", whole, X, (0.0, FITTED / 2, 0.0))
        z = worked.inside.hi[2] if upper else worked.inside.lo[2]
        seat = Seat((worked.inside.lo[0], box.centre[1], z), X, Z if upper else neg(Z))
        self.groove(key, seat, worked.inside.size[0])
        for left in (True, False):
            self.corner(key, upper=upper, left=left)

    @property
    def usable(self) -> float:
        """How much of a rail's width a joint may use: clear of its groove and of the door's end."""
        return self.doors.frame.rails - self.worked.deep - FROM_END

    def corner(self, rail: str, *, upper: bool, left: bool) -> None:
        """Join one end of a rail to its stile."""
        worked, box = self.worked, self.numbers.box
        outer = box.hi[2] - FROM_END if upper else box.lo[2] + FROM_END
        x = worked.inside.lo[0] if left else worked.inside.hi[0]
        # From the groove outwards, so that what stands upright in the joint is named alike.
        start = (x, box.centre[1], outer - self.usable if upper else outer)
        stile = self.stile_key(left=left)
        meeting = Meeting(
            name=f"{rail} {'left' if left else 'right'}",
            end=rail,
            face=stile,
            start=start,
            way=Z,
            length=self.usable,
            into_end=X if left else neg(X),
            end_thickness=box.size[1],
            face_thickness=self.doors.frame.stiles,
            hidden=Y,
            made_by="doors.frame.joint",
            for_what="doors",
            hard=is_hard(self.spec, self.doors.frame.material),
        )
        joint = self.joint
        if isinstance(joint, PocketScrewJoint) and joint.count is None:
            count = 2 if self.doors.frame.rails >= TWO_POCKETS else 1
            joint = joint.model_copy(update={"count": count})
        if isinstance(joint, MortiseAndTenonJoint):
            joint = joint.model_copy(update={"haunch": None})
        hold(self.bench, meeting, joint, Closing(way=X if left else neg(X)))

    def groove(self, key: str, seat: Seat, length: float) -> None:
        """Plough one groove for the panel."""
        channel = Channel(
            kind=ChannelKind.GROOVE,
            seat=seat,
            length=length,
            width=self.worked.groove,
            depth=self.worked.deep,
            made_by="doors.frame",
        )
        self.bench.cut(key, (channel,))

    def panel(self) -> None:
        """The panel, its edges thinned to a tongue where it is thicker than a groove may be."""
        worked, asked = self.worked, self.doors.panel
        key = f"{self.numbers.id}/panel"
        side = (worked.deep * (1 - MOVES)) if is_lumber(self.spec, asked.material) else SHORT
        self.bench.put(
            board(
                self.spec,
                Stock(letter="F", group=("doors", self.numbers.id), mover=self.numbers.id),
                Board(
                    key=key,
                    name="door panel",
                    material=asked.material,
                    box=worked.panel,
                    length=Z,
                    up=neg(Y),
                    show="top",
                    note=f"loose in its grooves, no glue; {side:.1f} mm of room at each long edge",
                ),
            )
        )
        if worked.tongue is not None:
            self._thin(key, worked.tongue)
        for part, way in (
            (self.stile_key(left=True), X),
            (self.stile_key(left=False), neg(X)),
            (self.rail_key(upper=False), Z),
            (self.rail_key(upper=True), neg(Z)),
        ):
            held = Halves(kind="loose panel", first=(), second=(), closes=way)
            self.bench.join(f"{key} in {part.split('/')[-1]}", key, part, held)

    def _thin(self, key: str, tongue: float) -> None:
        """Rabbet the panel's inside all round, clear of the frame by the room that it has."""
        box, inside = self.worked.panel, self.worked.inside
        thick = box.size[1]
        lumber = is_lumber(self.spec, self.doors.panel.material)
        # Across its grain (X) lumber moves by more than it is short along it.
        beside = {0: self.worked.deep * (1 - MOVES) if lumber else SHORT, 2: SHORT}
        for way in (X, neg(X), Z, neg(Z)):
            axis = 0 if way[0] else 2
            aside = beside[axis]
            forth = way[axis] > 0
            run = Z if axis == 0 else X
            edge = box.hi[axis] if forth else box.lo[axis]
            stop = (inside.hi[axis] - aside) if forth else (inside.lo[axis] + aside)
            start = list(box.lo)
            start[1] = box.hi[1]
            start[axis] = (edge + stop) / 2
            step = Channel(
                kind=ChannelKind.RABBET,
                seat=Seat((start[0], start[1], start[2]), run, neg(Y)),
                length=box.size[2 - axis],
                width=abs(edge - stop),
                depth=thick - tongue,
                made_by="doors.panel",
            )
            self.bench.cut(key, (step,))
