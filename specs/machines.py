"""The machines in the shop and what each can reach (mm, degrees).

Every limit is common practice for a small shop, no source, and can be written over by what the
maker's own machine does.
"""

from enum import StrEnum

from pydantic import Field

from specs.fields import Angle, Flag, Length
from specs.records import Record


class BladeTilts(StrEnum):
    """To which side a table saw's blade leans, seen from its front."""

    LEFT = "left"
    RIGHT = "right"


class Machine(Record):
    """Any machine: whether it stands in the shop."""

    owned: Flag = Field(default=True, description="false: there is none")


class TableSaw(Machine):
    """A table saw with fence, mitre gauge, a sled for tapers and a dado stack."""

    height: Length = Field(80.0, description="cuts this high with the blade upright")
    height_tilted: Length = Field(55.0, description="cuts this high with the blade at 45")
    tilt: Angle = Field(45.0, description="most that the blade tilts")
    tilts: BladeTilts = Field(BladeTilts.LEFT, description="the side the blade leans to")
    mitre: Angle = Field(60.0, description="most that the mitre gauge turns")
    rip: Length = Field(650.0, description="widest between fence and blade")
    shortest: Length = Field(300.0, description="shortest piece that runs along the fence")
    shortest_held: Length = Field(150.0, description="shortest piece that gauge or sled can hold")
    narrowest: Length = Field(6.0, description="narrowest strip between fence and blade")
    crosscut: Length = Field(450.0, description="widest board that the gauge crosscuts")
    sled: Length = Field(1500.0, description="longest piece on the taper sled")
    largest: Length = Field(1500.0, description="longest sheet part that one person feeds")
    dado: tuple[Length, Length] = Field(
        (6.0, 20.0), description="narrowest and widest cut of the dado stack"
    )
    dado_depth: Length = Field(25.0, description="deepest cut of the dado stack")


class TrackSaw(Machine):
    """A plunge saw on a guide rail."""

    height: Length = Field(55.0, description="cuts this deep upright")
    height_tilted: Length = Field(38.0, description="cuts this deep at 45")
    tilt: Angle = Field(47.0, description="most that the saw tilts")
    longest: Length = Field(2600.0, description="longest cut on the rails at hand")
    narrowest: Length = Field(150.0, description="narrowest piece that the rail lies firm on")


class MitreSaw(Machine):
    """A sliding mitre saw."""

    width: Length = Field(300.0, description="widest board it crosscuts")
    height: Length = Field(70.0, description="cuts this high upright")
    height_tilted: Length = Field(45.0, description="cuts this high at 45")
    tilt: Angle = Field(47.0, description="most that the saw tilts")
    mitre: Angle = Field(50.0, description="most that it turns")
    shortest: Length = Field(200.0, description="shortest piece that may be held on it")


class BandSaw(Machine):
    """A band saw with a fence and a table that tilts."""

    height: Length = Field(250.0, description="highest cut under the guides")
    tilt: Angle = Field(45.0, description="most that the table tilts")
    throat: Length = Field(400.0, description="widest between fence and blade")
    shortest: Length = Field(80.0, description="shortest piece that may be held by hand")


class Planer(Machine):
    """A jointer and a thickness planer."""

    widest: Length = Field(300.0, description="widest board")
    shortest: Length = Field(300.0, description="shortest board")


class Router(Machine):
    """A plunge router: in a table, along its fence, or guided."""

    deepest: Length = Field(50.0, description="deepest cut, in several passes")
    widest: Length = Field(25.0, description="widest cut in one pass")
    table: Length = Field(900.0, description="longest piece that goes over the router table")


class DrillPress(Machine):
    """A drill press with a table that tilts."""

    reach: Length = Field(170.0, description="from the column to the drill")
    height: Length = Field(350.0, description="highest piece under the drill")
    stroke: Length = Field(80.0, description="deepest hole")


class Mortiser(Machine):
    """A hand-held loose-tenon mortiser that registers on the face it enters."""

    widest: Length = Field(12.0, description="widest mortise")
    deepest: Length = Field(28.0, description="deepest mortise")


class Machines(Record):
    """The machines in the shop; each that is not written is there, with the usual limits."""

    table_saw: TableSaw = Field(TableSaw(), description="fence, mitre gauge, sled, dado stack")
    track_saw: TrackSaw = Field(TrackSaw(), description="a saw on a guide rail")
    mitre_saw: MitreSaw = Field(MitreSaw(), description="crosscuts of boards")
    band_saw: BandSaw = Field(BandSaw(), description="curves, resawing, what is too small to rip")
    planer: Planer = Field(Planer(), description="jointer and thickness planer")
    router: Router = Field(Router(), description="in a table or guided")
    drill_press: DrillPress = Field(DrillPress(), description="round holes")
    mortiser: Mortiser = Field(Mortiser(), description="mortises for loose tenons")
