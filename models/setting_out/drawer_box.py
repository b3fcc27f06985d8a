"""A drawer's box: two sides, a front of its own, a back, and a bottom in grooves of all four."""

from dataclasses import dataclass, replace

from ground.findings import Finding, Severity
from ground.vectors import Vec, X, Y, Z, neg
from models.parts.features import Hole, HoleKind, Seat, Waste, WasteKind
from models.parts.joints.box_corner import BoxCorner
from models.parts.joints.drawer_bottom import (
    BottomGroove,
    grooved_end,
    grooved_side,
    swapped,
)
from models.parts.joints.locking_device import locking_device
from models.setting_out.bench import Bench
from models.setting_out.box_corners import BoxJoint
from models.setting_out.draft import Box
from models.setting_out.fittings import Bought, between, lay_block
from models.setting_out.runners import SOURCE
from models.setting_out.stock import Board, Stock, board
from specs.drawers import Drawers
from specs.hardware import Runner, UndermountRunner
from specs.spec import Spec

OVER_LAYERS = 5.0
"""The layers of a glued-up bottom are sawn this much over, long and wide (mm). Common practice, no
source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxNumbers:
    """A box worked out: its ``outside`` in piece axes, the thickness of its ``stock``, its groove.

    ``id`` is the drawer's: the beginning of every key.
    """

    id: str
    outside: Box
    stock: float
    groove: BottomGroove
    joint: BoxJoint

    @property
    def height(self) -> float:
        """From the lower to the upper edge."""
        return self.outside.size[2]

    @property
    def inside(self) -> tuple[float, float]:
        """The X of both sides' inner faces."""
        return (self.outside.lo[0] + self.stock, self.outside.hi[0] - self.stock)

    def corner(self, *, left: bool, front: bool, made_by: str) -> BoxCorner:
        """One corner of the box."""
        lo, hi = self.outside.lo, self.outside.hi
        return BoxCorner(
            outer=(lo[0] if left else hi[0], lo[1] if front else hi[1], lo[2]),
            across=X if left else neg(X),
            deep=Y if front else neg(Y),
            up=Z,
            height=self.height,
            side=self.stock,
            end=self.stock,
            made_by=made_by,
        )

    def side_box(self, *, left: bool) -> Box:
        """The box that a side fills."""
        lo, hi, inset = self.outside.lo, self.outside.hi, self.joint.fit.side_in
        near = lo[0] if left else hi[0] - self.stock
        return Box((near, lo[1] + inset, lo[2]), (near + self.stock, hi[1] - inset, hi[2]))

    def end_box(self, *, front: bool) -> Box:
        """The box that the box's front or back fills."""
        lo, hi, inset = self.outside.lo, self.outside.hi, self.joint.fit.end_in
        near = lo[1] if front else hi[1] - self.stock
        return Box((lo[0] + inset, near, lo[2]), (hi[0] - inset, near + self.stock, hi[2]))

    def bottom_box(self) -> Box:
        """The box that the bottom fills: a little short of every groove's floor."""
        lo, hi = self.outside.lo, self.outside.hi
        inset = self.stock - self.groove.reach
        low = lo[2] + self.groove.up
        return Box(
            (lo[0] + inset, lo[1] + inset, low),
            (hi[0] - inset, hi[1] - inset, low + self.groove.thick),
        )


def lay_box(bench: Bench, spec: Spec, drawers: Drawers, numbers: BoxNumbers, stock: Stock) -> None:
    """Lay out the five parts of a box and join them."""
    _boards(bench, spec, drawers, numbers, stock)
    fit, outside = numbers.joint.fit, numbers.outside.size
    for front in (True, False):
        end = _end_key(numbers, front=front)
        for left in (True, False):
            corner = numbers.corner(left=left, front=front, made_by="drawers.box.corner")
            where = f"{numbers.id}/{'front' if front else 'back'} {'left' if left else 'right'}"
            bench.join(where, end, _side_key(numbers, left=left), numbers.joint.make(corner))
        corner = numbers.corner(left=True, front=front, made_by="drawers.bottom")
        length = outside[0] - 2 * fit.end_groove
        halves = grooved_end(corner, numbers.groove, start=fit.end_groove, length=length)
        if front:
            bench.join(f"{numbers.id}/bottom front", end, _key(numbers, "bottom"), halves)
        else:
            back = swapped(halves)
            bench.join(f"{numbers.id}/bottom back", _key(numbers, "bottom"), end, back)
    for left in (True, False):
        corner = numbers.corner(left=left, front=True, made_by="drawers.bottom")
        length = outside[1] - 2 * fit.side_groove
        halves = grooved_side(corner, numbers.groove, start=fit.side_groove, length=length)
        where = f"{numbers.id}/bottom {'left' if left else 'right'}"
        side = _side_key(numbers, left=left)
        bench.join(where, _key(numbers, "bottom"), side, swapped(halves))


def fit_to_runner(bench: Bench, runner: Runner, numbers: BoxNumbers) -> None:
    """Notch the back for undermount runners, bore it for their hooks, the front for their locks."""
    if not isinstance(runner, UndermountRunner):
        return
    for left in (True, False):
        _lock(bench, numbers, left=left)
    back = _end_key(numbers, front=False)
    for left in (True, False):
        corner = numbers.corner(left=left, front=False, made_by="drawers.runner")
        fit = numbers.joint.fit
        inner = "wall-a" if fit.end_in < fit.notch else ""
        notch = Waste(
            kind=WasteKind.NOTCH,
            planes=corner.bite(
                u=(fit.notch, max(runner.notch_width, numbers.stock + 1.0)),
                v=(0.0, numbers.stock),
                # Up to the groove where the bottom lies a little high: no sliver is left between.
                w=(0.0, max(runner.notch_height, min(numbers.groove.up, runner.recess + 1.0))),
                names=(inner, "wall-b", "", "", "", "floor"),
            ),
            made_by="drawers.runner",
            note="room for the runner",
        )
        hook = Hole(
            kind=HoleKind.FITTING,
            seat=Seat(
                corner.point(
                    numbers.stock + runner.hook_in, 0.0, numbers.groove.up + runner.hook_up
                ),
                corner.across,
                corner.deep,
            ),
            diameter=runner.hook_diameter,
            depth=runner.hook_depth,
            made_by="drawers.runner",
        )
        bench.cut(back, (notch, hook))
    _hook_room(bench, runner, numbers, back)


def _lock(bench: Bench, numbers: BoxNumbers, *, left: bool) -> None:
    """The device that locks the drawer to one runner."""
    corner = numbers.corner(left=left, front=True, made_by="drawers.runner")
    device = locking_device(corner, below=numbers.groove.up, made_by="drawers.runner")
    bench.cut(_end_key(numbers, front=True), device.holes)
    hand = "left" if left else "right"
    it = Bought(
        key=_key(numbers, f"locking device {hand}"),
        name="locking device",
        group=("drawers", numbers.id),
        mover=numbers.id,
    )
    lay_block(bench, it, between(*device.body))


def _hook_room(bench: Bench, runner: UndermountRunner, numbers: BoxNumbers, back: str) -> None:
    """The hook's hole may run into the groove behind it, but not into the bottom."""
    low, high = numbers.groove.span
    middle, half = numbers.groove.up + runner.hook_up, runner.hook_diameter / 2
    beside = middle - half >= high or middle + half <= low
    room = numbers.stock - runner.hook_depth - numbers.groove.reach
    if runner.hook_depth >= numbers.stock or (not beside and room < 0.0):
        limit = numbers.stock - (0.0 if beside else numbers.groove.reach)
        bench.find(
            Finding(
                code="fit.hook_hole",
                severity=Severity.WARNING,
                subject=numbers.id,
                message=f"the runner's hook wants a hole {runner.hook_depth:.1f} mm deep in the "
                f"back and there are {limit:.1f} mm before the bottom; take thicker stock or a "
                "shallower groove",
                copies=(back,),
                value=runner.hook_depth,
                limit=limit,
                unit="mm",
                source=SOURCE,
            )
        )


def _boards(bench: Bench, spec: Spec, drawers: Drawers, numbers: BoxNumbers, stock: Stock) -> None:
    wood = drawers.box.material
    for left in (True, False):
        bench.put(
            board(
                spec,
                stock,
                Board(
                    key=_side_key(numbers, left=left),
                    name="drawer side",
                    material=wood,
                    box=numbers.side_box(left=left),
                    length=Y if left else neg(Y),
                    up=X if left else neg(X),
                ),
            )
        )
    for front in (True, False):
        bench.put(
            board(
                spec,
                stock,
                Board(
                    key=_end_key(numbers, front=front),
                    name=f"drawer box {'front' if front else 'back'}",
                    material=wood,
                    box=numbers.end_box(front=front),
                    length=neg(X) if front else X,
                    up=Y if front else neg(Y),
                ),
            )
        )
    bench.put(board(spec, stock, _bottom(drawers, numbers)))


def _bottom(drawers: Drawers, numbers: BoxNumbers) -> Board:
    plain = Board(
        key=_key(numbers, "bottom"),
        name="drawer bottom",
        material=drawers.bottom.material,
        box=numbers.bottom_box(),
        length=X,
        up=Z,
    )
    layers = drawers.bottom.layers
    if layers == 1:
        return plain
    over: Vec = (OVER_LAYERS, OVER_LAYERS, 0.0)
    note = f"{layers} layers, each sawn {OVER_LAYERS:g} mm over; glue them, then trim to size"
    return replace(plain, layers=layers, over=over, note=note)


def _key(numbers: BoxNumbers, name: str) -> str:
    return f"{numbers.id}/{name}"


def _side_key(numbers: BoxNumbers, *, left: bool) -> str:
    return _key(numbers, "side left" if left else "side right")


def _end_key(numbers: BoxNumbers, *, front: bool) -> str:
    return _key(numbers, "box front" if front else "box back")
