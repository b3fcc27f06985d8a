"""What placed copies share, and how large the closed piece is: on the exact solids."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import cadquery as cq
import numpy as np
from numpy.typing import NDArray
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common
from OCP.BRepGProp import BRepGProp
from OCP.gp import gp_Ax3, gp_Dir, gp_Pnt, gp_Trsf
from OCP.GProp import GProp_GProps
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS_Shape
from OCP.TopTools import TopTools_ListOfShape

from ground.errors import BuildError
from ground.tolerances import LENGTH_EPS
from ground.vectors import Frame
from models.parts.assembly import Assembly, Copy
from models.solids.base import vec
from models.solids.kernel import KERNEL_FAILURES
from models.solids.measure import exact_box
from models.solids.records import Box, Clash

Array = NDArray[np.float64]

SAME_PLACEMENT = 6
"""Decimals of a relative placement (mm and none) by which two pairs of copies are alike."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Placed:
    """A copy's box: ``centre``, half ``sizes`` along its own ``axes`` (rows), all in piece axes."""

    copy: Copy
    centre: Array
    sizes: Array
    axes: Array


def clashes(
    assembly: Assembly,
    solids: Mapping[str, cq.Solid],
    *,
    ignore: Collection[str] = (),
    pairs: Iterable[tuple[str, str]] | None = None,
) -> tuple[Clash, ...]:
    """Find every two copies that share wood, and how much (mm3); touching is no clash.

    ``solids`` are by part label; copies of labels in ``ignore``, or without a solid, are left out.
    ``pairs`` (of copy ids) limits the search. The caller says how much is too much.

    Raises:
        BuildError: the kernel cannot compare two copies.
    """
    boxes = [
        placed(copy, solids[copy.label])
        for copy in assembly.copies
        if copy.label in solids and copy.label not in ignore
    ]
    wanted = None if pairs is None else {frozenset(pair) for pair in pairs}
    known: dict[tuple[object, ...], float] = {}
    found: list[Clash] = []
    for first, second in candidates(boxes):
        if wanted is not None and {first.copy.id, second.copy.id} not in wanted:
            continue
        key = relative(first.copy, second.copy)
        if key not in known:
            known[key] = shared(first.copy, second.copy, solids)
        if known[key] > 0:
            found.append(Clash(first=first.copy.id, second=second.copy.id, volume=known[key]))
    return tuple(found)


def piece_bounds(copies: Iterable[Copy], solids: Mapping[str, cq.Solid]) -> Box:
    """The exact box around placed copies (piece axes); copies without a solid are left out.

    Raises:
        ValueError: there is no copy with a solid.
    """
    known: dict[tuple[object, ...], Array] = {}
    boxes: list[Array] = []
    for copy in copies:
        if copy.label not in solids:
            continue
        turned = Frame(copy.placement.x, copy.placement.y)
        key = (copy.label, turned)
        if key not in known:
            known[key] = np.array(exact_box(moved(solids[copy.label].wrapped, turned)))
        boxes.append(known[key] + copy.placement.origin)
    if not boxes:
        msg = "no copy has a solid"
        raise ValueError(msg)
    low, high = np.min(boxes, axis=0)[0], np.max(boxes, axis=0)[1]
    return (vec(low), vec(high))


def placed(copy: Copy, solid: cq.Solid) -> Placed:
    """Lay out the box of a copy."""
    low, high = np.array(exact_box(solid.wrapped))
    frame = copy.placement
    return Placed(
        copy=copy,
        centre=np.array(frame.point(vec((low + high) / 2))),
        sizes=(high - low) / 2,
        axes=np.array((frame.x, frame.y, frame.z)),
    )


def candidates(boxes: Sequence[Placed]) -> Iterator[tuple[Placed, Placed]]:
    """Pairs of copies whose boxes share space: first upright boxes, then their own."""
    if not boxes:
        return
    centres = np.array([box.centre for box in boxes])
    reaches = np.array([box.sizes @ np.abs(box.axes) for box in boxes])
    for i, first in enumerate(boxes):
        apart = np.abs(centres[i + 1 :] - centres[i])
        near = np.all(reaches[i + 1 :] + reaches[i] - apart > LENGTH_EPS, axis=1)
        for place in np.flatnonzero(near).tolist():
            second = boxes[i + 1 + place]
            if boxes_meet(first, second):
                yield first, second


def boxes_meet(a: Placed, b: Placed) -> bool:
    """Tell whether no plane parts two turned boxes (separating axes)."""
    crossed = np.cross(a.axes[:, None, :], b.axes[None, :, :]).reshape(9, 3)
    lengths = np.linalg.norm(crossed, axis=1)
    lined_up = lengths <= LENGTH_EPS
    crossed = crossed[~lined_up] / lengths[~lined_up, None]
    axes = np.vstack((a.axes, b.axes, crossed))
    reach = np.abs(axes @ a.axes.T) @ a.sizes + np.abs(axes @ b.axes.T) @ b.sizes
    return bool(np.all(reach - np.abs(axes @ (b.centre - a.centre)) > LENGTH_EPS))


def relative(first: Copy, second: Copy) -> tuple[object, ...]:
    """What two pairs of copies have in common when they stand alike."""
    frame = second.placement.then(first.placement.inverse())
    numbers = (*frame.x, *frame.y, *frame.origin)
    rounded = tuple(round(number, SAME_PLACEMENT) + 0.0 for number in numbers)
    return (first.label, second.label, rounded)


def shared(first: Copy, second: Copy, solids: Mapping[str, cq.Solid]) -> float:
    """The volume that two copies have in common (mm3).

    Raises:
        BuildError: the kernel cannot compare them.
    """
    across = second.placement.then(first.placement.inverse())
    arguments, tools = TopTools_ListOfShape(), TopTools_ListOfShape()
    arguments.Append(solids[first.label].wrapped)
    tools.Append(moved(solids[second.label].wrapped, across))
    boolean = BRepAlgoAPI_Common()
    boolean.SetArguments(arguments)
    boolean.SetTools(tools)
    boolean.SetToFillHistory(False)
    boolean.SetNonDestructive(True)  # solids are shared by all who ask for them
    pair = f"{first.id} and {second.id}"
    try:
        boolean.Build()
        done = boolean.IsDone()
    except KERNEL_FAILURES as failure:
        raise BuildError(pair, "clash", str(failure)) from failure
    if not done:
        reason = "the kernel cannot compare them"
        raise BuildError(pair, "clash", reason)
    return max(volume(boolean.Shape()), 0.0)


def volume(shape: TopoDS_Shape) -> float:
    """What the solids of a shape hold (mm3)."""
    sums = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, sums)
    return float(sums.Mass())


def moved(shape: TopoDS_Shape, frame: Frame) -> TopoDS_Shape:
    """A shape carried from part axes to where ``frame`` puts it."""
    step = gp_Trsf()
    there = gp_Ax3(gp_Pnt(*frame.origin), gp_Dir(*frame.z), gp_Dir(*frame.x))
    step.SetDisplacement(gp_Ax3(), there)
    return shape.Moved(TopLoc_Location(step))
