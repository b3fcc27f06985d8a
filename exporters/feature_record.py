"""Features and findings as build.json has them."""

from typing import Any, assert_never

from exporters.json_text import direction, flat, number, point
from ground.findings import Finding
from ground.tolerances import LENGTH_EPS
from ground.vectors import Plane, Vec, along, dot, neg, scale
from models.parts.cuts import Cone
from models.parts.features import (
    Channel,
    Countersink,
    EasedEdge,
    Feature,
    Hole,
    Mortise,
    Seat,
    Trim,
    Waste,
)
from models.parts.lowering import lower
from models.parts.part import Part


def entry(feature: Feature, part: Part) -> dict[str, Any]:
    """One feature: what it is, where, how large, how deep, and what asks for it."""
    return {
        "id": feature.id,
        "kind": str(feature.kind),
        "face": face(feature, part),
        **details(feature),
        "depth": depth(feature, part),
        "made_by": feature.made_by,
    }


def details(feature: Feature) -> dict[str, Any]:
    """What only this sort of feature has."""
    match feature:
        case Trim(plane=plane):
            return flat(plane)
        case Channel() | Mortise():
            sizes = {"length": number(feature.length), "width": number(feature.width)}
            return seat(feature.seat) | sizes
        case Hole():
            return seat(feature.seat) | {"diameter": number(feature.diameter)} | row(feature)
        case Countersink():
            size = {"diameter": number(feature.diameter), "angle": number(feature.angle)}
            return seat(feature.seat) | size | row(feature)
        case Waste(planes=planes, note=note):
            walls = [{"name": name, **flat(plane)} for name, plane in planes]
            return {"planes": walls, "note": note}
        case EasedEdge(between=between, size=size):
            return {"between": list(between), "size": number(size)}
    assert_never(feature)


def seat(place: Seat) -> dict[str, Any]:
    """Where a feature sits."""
    return {
        "at": point(place.origin),
        "along": direction(place.along),
        "into": direction(place.into),
    }


def row(feature: Hole | Countersink) -> dict[str, Any]:
    """How many in a row, and how far apart."""
    return {"count": feature.count, "pitch": number(feature.pitch)}


def depth(feature: Feature, part: Part) -> float | None:
    """How deep it goes; None: through the part, or not a thing with a depth."""
    match feature:
        case Channel() | Mortise():
            return number(feature.depth)
        case Hole():
            return None if feature.depth is None else number(feature.depth)
        case Countersink():
            cone = lower(feature, part.blank)[0]
            return number(cone.depth) if isinstance(cone, Cone) else None
        case Trim() | Waste() | EasedEdge():
            return None
    assert_never(feature)


def face(feature: Feature, part: Part) -> str | None:
    """The face that it makes or enters, by the names of ``faces``; None where it is not one."""
    match feature:
        case Trim(id=name):
            return name
        case Channel() | Mortise() | Hole() | Countersink():
            return entered(feature.seat, feature.id, part)
        case Waste() | EasedEdge():
            return None
    assert_never(feature)


def entered(place: Seat, own: str, part: Part) -> str | None:
    """The face that a seat lies on: of the base, else a floor or a wall of another feature."""
    planes = part.base_planes()
    for other in part.features:
        if isinstance(other, Channel | Mortise | Hole) and other.depth and other.id != own:
            planes[f"{other.id}.floor"] = floor(other.seat, other.depth)
        if isinstance(other, Channel) and other.id != own:
            for name, side in (("wall-a", -1.0), ("wall-b", 1.0)):
                across = scale(other.seat.across, side)
                middle = along(other.seat.origin, across, other.width / 2)
                planes[f"{other.id}.{name}"] = Plane.through(middle, neg(across))
    against: dict[str, float] = {}
    for name, plane in planes.items():
        if abs(plane.height(place.origin)) <= LENGTH_EPS:
            against[name] = dot(plane.normal, place.into)
    best = min(against, key=lambda name: against[name], default=None)
    return best if best is not None and against[best] < 0 else None


def floor(place: Seat, deep: float) -> Plane:
    """The plane that the bottom of a feature leaves on the part."""
    bottom: Vec = along(place.origin, place.into, deep)
    return Plane.through(bottom, neg(place.into))


def finding(found: Finding) -> dict[str, Any]:
    """One finding."""
    return {
        "code": found.code,
        "severity": found.severity.value,
        "subject": found.subject,
        "copies": list(found.copies),
        "at": None if found.at is None else point(found.at),
        "message": found.message,
        "value": None if found.value is None else number(found.value),
        "limit": None if found.limit is None else number(found.limit),
        "unit": found.unit,
        "source": found.source,
    }
