"""A tongue left on the end of one part, in a groove across the face of another."""

from dataclasses import dataclass

from ground.tolerances import LENGTH_EPS
from ground.vectors import Vec, along, cross, neg
from models.parts.features import Channel, ChannelKind, Feature, Seat
from models.parts.joints.kit import Halves

CLEARANCE = 0.1
"""Groove wider than the tongue (mm). Common practice, no source."""
END_CLEARANCE = 0.5
"""Groove deeper than the tongue is long (mm), so that the shoulders close. Common practice, no
source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EndLine:
    """The end of a part that stands against a face, in piece axes.

    ``start`` is the beginning of the middle line of the end, in the plane of the face; ``way`` and
    ``length`` are the line's own. ``into_end`` points from that plane into the end's part, which
    is ``thickness`` thick. ``lead`` and ``tail`` are how far what is let into the face must keep
    from the beginning and from the end of the line (mm).
    """

    start: Vec
    way: Vec
    length: float
    into_end: Vec
    thickness: float
    lead: float = 0.0
    tail: float = 0.0

    @property
    def across(self) -> Vec:
        """Through the end's thickness."""
        return cross(self.into_end, self.way)

    @property
    def let_in(self) -> float:
        """How long what is let into the face is."""
        return self.length - self.lead - self.tail


@dataclass(frozen=True, slots=True, kw_only=True)
class Tongue:
    """A tongue's ``thickness`` and ``length`` (from its shoulders), in mm."""

    thickness: float
    length: float
    clearance: float = CLEARANCE


def tongued(line: EndLine, tongue: Tongue, *, closes: Vec | str, made_by: str) -> Halves:
    """Leave a tongue in the middle of the first part's end, plough its groove in the second.

    The first part is longer by the tongue than to the plane of the face.
    """
    shoulder = (line.thickness - tongue.thickness) / 2
    groove = Channel(
        kind=ChannelKind.GROOVE,
        seat=Seat(along(line.start, line.way, line.lead), line.way, neg(line.into_end)),
        length=line.let_in,
        width=tongue.thickness + tongue.clearance,
        depth=tongue.length + END_CLEARANCE,
        made_by=made_by,
    )
    shoulders = (
        cheek(line, way, (tongue.length, shoulder), made_by=made_by)
        for way in (line.across, neg(line.across))
    )
    return Halves(
        kind="tongue and groove",
        first=(*shoulders, *corners(line, tongue.length, made_by=made_by)),
        second=(groove,),
        closes=closes,
    )


def cheek(line: EndLine, way: Vec, size: tuple[float, float], *, made_by: str) -> Channel:
    """A rabbet across the end, in the face that looks ``way``: ``size`` is its width and depth."""
    width, depth = size
    middle = along(line.start, line.into_end, -width / 2)
    return Channel(
        kind=ChannelKind.RABBET,
        seat=Seat(along(middle, way, line.thickness / 2), line.way, neg(way)),
        length=line.length,
        width=width,
        depth=depth,
        made_by=made_by,
    )


def corners(line: EndLine, depth: float, *, made_by: str) -> tuple[Feature, ...]:
    """Notch the corners of an end let in ``depth`` deep where the channel stops short."""
    places = ((0.0, line.lead), (line.length - line.tail, line.tail))
    end = along(line.start, line.into_end, -depth)
    return tuple(
        Channel(
            kind=ChannelKind.NOTCH,
            seat=Seat(along(end, line.way, place), line.way, line.into_end),
            length=length,
            width=line.thickness,
            depth=depth,
            made_by=made_by,
        )
        for place, length in places
        if length > LENGTH_EPS
    )
