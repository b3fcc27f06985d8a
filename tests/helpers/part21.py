r"""A reader of STEP files that shares nothing with the kernel that wrote them.

A small grammar of ISO 10303-21 (clear text) and the few entities of ISO 10303-42 that the tests
ask about, read from the text alone.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, TypeAlias

from lark import Lark, Token, Transformer

from ground.vectors import Frame, Plane, Vec, neg, unit

GRAMMAR = r"""
file: "ISO-10303-21;" header data "END-ISO-10303-21;"
header: "HEADER;" (record ";")+ ENDSEC
data: "DATA;" instance+ ENDSEC
instance: ID "=" (record | "(" record+ ")") ";"
record: NAME "(" [value ("," value)*] ")"
?value: ID -> ref | STRING -> string | REAL -> real | INTEGER -> integer | ENUM -> enum
      | "$" -> nothing | "*" -> derived | "(" [value ("," value)*] ")" -> items | record
ENDSEC.2: "ENDSEC;"
NAME: /[A-Z_][A-Z0-9_]*/
ID: /#[0-9]+/
STRING: /'(?:[^']|'')*'/
REAL.2: /[+-]?[0-9]+\.[0-9]*(?:E[+-]?[0-9]+)?/
INTEGER: /[+-]?[0-9]+/
ENUM: /\.[A-Z_][A-Z0-9_]*\./
%ignore /\s+/
%ignore /\/\*.*?\*\//s
"""


@dataclass(frozen=True, slots=True)
class Ref:
    """A reference to an instance."""

    id: int


@dataclass(frozen=True, slots=True)
class Enum:
    """A word between dots."""

    word: str


Value: TypeAlias = "Ref | Enum | str | float | int | tuple[Value, ...] | Entity | None"


@dataclass(frozen=True, slots=True)
class Entity:
    """One record: its name and its values."""

    name: str
    values: tuple[Value, ...]


def decoded(text: str) -> str:
    r"""What a string says: quotes and backslashes single, ``\X2\`` and ``\X4\`` as letters."""
    inner = text[1:-1].replace("''", "'")

    def letters(code: re.Match[str]) -> str:
        if code[0] == "\\\\":
            return "\\"
        return bytes.fromhex(code[2]).decode("utf-16-be" if code[1] == "2" else "utf-32-be")

    return re.sub(r"\\\\|\\X([24])\\((?:[0-9A-F]{4})+)\\X0\\", letters, inner)


class _Build(Transformer[Token, object]):
    """Turns the tree into records."""

    def string(self, found: list[Token]) -> str:
        return decoded(found[0])

    def real(self, found: list[Token]) -> float:
        return float(found[0])

    def integer(self, found: list[Token]) -> int:
        return int(found[0])

    def enum(self, found: list[Token]) -> Enum:
        return Enum(found[0].strip("."))

    def ref(self, found: list[Token]) -> Ref:
        return Ref(int(found[0][1:]))

    def nothing(self, _: list[Token]) -> None:
        return None

    def derived(self, _: list[Token]) -> Enum:
        return Enum("*")

    def items(self, found: list[Value]) -> tuple[Value, ...]:
        return tuple(found)

    def record(self, found: list[Value]) -> Entity:
        return Entity(str(found[0]), tuple(found[1:]))

    def instance(self, found: list[Token | Entity]) -> tuple[int, tuple[Entity, ...]]:
        records = tuple(one for one in found[1:] if isinstance(one, Entity))
        return int(str(found[0])[1:]), records

    def header(self, found: list[Entity | Token]) -> tuple[Entity, ...]:
        return tuple(one for one in found if isinstance(one, Entity))

    def data(self, found: list[object]) -> list[object]:
        return [one for one in found if isinstance(one, tuple)]

    def file(self, found: list[object]) -> list[object]:
        return found


@cache
def _grammar() -> Lark:
    return Lark(GRAMMAR, start="file", parser="lalr", transformer=_Build())


class StepFile:
    """A STEP file as read: its header, its instances, and what they say of shapes."""

    def __init__(self, text: str) -> None:
        assert text.isascii(), "clear text is written in ASCII"
        read: Any = _grammar().parse(text)
        header, data = read
        self.header: dict[str, Entity] = {record.name: record for record in header}
        self.instances: dict[int, tuple[Entity, ...]] = dict(data)
        assert len(self.instances) == len(data), "an instance is there twice"

    def dangling(self) -> set[int]:
        """The references to nothing."""
        named = {ref.id for records in self.instances.values() for ref in _refs(records)}
        return named - set(self.instances)

    def all(self, name: str) -> Iterator[tuple[int, Entity]]:
        """Every instance that has a record of ``name``."""
        for place, records in self.instances.items():
            for record in records:
                if record.name == name:
                    yield place, record

    def at(self, ref: Value, name: str | None = None) -> Entity:
        """The record behind a reference; of ``name`` where the instance has several."""
        assert isinstance(ref, Ref)
        records = self.instances[ref.id]
        (found,) = [one for one in records if name is None or one.name == name]
        return found

    def vector(self, ref: Value) -> Vec:
        """A point or a direction."""
        values = self.at(ref).values[1]
        assert isinstance(values, tuple)
        x, y, z = (float(value) for value in values if isinstance(value, float | int))
        return (x, y, z)

    def frame(self, ref: Value) -> Frame:
        """An axis2_placement_3d: its z axis is given first, its x axis second."""
        _, origin, z, x = self.at(ref).values
        along, out = unit(self.vector(x)), unit(self.vector(z))
        across = (
            out[1] * along[2] - out[2] * along[1],
            out[2] * along[0] - out[0] * along[2],
            out[0] * along[1] - out[1] * along[0],
        )
        return Frame(along, across, self.vector(origin))

    def faces(self) -> list[tuple[str, Entity, bool]]:
        """Every face: the name of its surface's kind, the surface, whether their senses agree."""
        found = []
        for _, face in self.all("ADVANCED_FACE"):
            surface = self.at(face.values[2])
            found.append((surface.name, surface, face.values[3] == Enum("T")))
        return found

    def planes(self) -> list[Plane]:
        """The planar faces, normals outward."""
        found = []
        for kind, surface, agrees in self.faces():
            if kind == "PLANE":
                place = self.frame(surface.values[1])
                found.append(Plane.through(place.origin, place.z if agrees else neg(place.z)))
        return found

    def radii(self) -> list[float]:
        """The radius of every cylindrical face."""
        values = [s.values[2] for kind, s, _ in self.faces() if kind == "CYLINDRICAL_SURFACE"]
        return [float(value) for value in values if isinstance(value, float)]

    def corners(self) -> list[Vec]:
        """The place of every vertex."""
        return [self.vector(vertex.values[1]) for _, vertex in self.all("VERTEX_POINT")]

    def products(self) -> dict[str, str]:
        """The name of every product by its id."""
        return {
            str(product.values[0]): str(product.values[1]) for _, product in self.all("PRODUCT")
        }

    def colours(self) -> dict[str, tuple[float, ...]]:
        """The colour of every product's solid, red green blue, by the product's id."""
        found = {}
        for _, styled in self.all("STYLED_ITEM"):
            surface = styled.values[1]
            while not isinstance(surface, Entity) or surface.name != "COLOUR_RGB":
                surface = self.at(surface[0] if isinstance(surface, tuple) else surface)
                surface = surface if surface.name == "COLOUR_RGB" else self.inner(surface)
            channels = tuple(v for v in surface.values[1:] if isinstance(v, float))
            found[self.product_with(styled.values[2])] = channels
        return found

    def inner(self, style: Entity) -> Value:
        """What a style is made of: its last value that leads on."""
        leads = [value for value in style.values if isinstance(value, Ref | tuple)]
        return leads[-1]

    def product_with(self, solid: Value) -> str:
        """The id of the product that a solid is the shape of."""
        (shape,) = [
            place
            for place, one in self.all("ADVANCED_BREP_SHAPE_REPRESENTATION")
            if any(ref == solid for ref in _refs(one.values[1]))
        ]
        (defined,) = [
            one.values[0]
            for _, one in self.all("SHAPE_DEFINITION_REPRESENTATION")
            if one.values[1] == Ref(shape)
        ]
        return self.product_of(self.at(defined).values[2])

    def product_of(self, definition: Value) -> str:
        """The id of the product that a product definition belongs to."""
        formation = self.at(self.at(definition).values[2])
        return str(self.at(formation.values[2]).values[0])

    def occurrences(self) -> dict[str, tuple[str, str, Frame]]:
        """Every occurrence by name: the product it is in, its own product, and its place."""
        found = {}
        for place, shape in self.all("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION"):
            assert place
            usage = self.at(self.at(shape.values[1]).values[2])
            name = "REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION"
            moved = self.at(self.at(shape.values[0], name).values[0])
            assert self.frame(moved.values[2]) == Frame(), "a part's own axes"
            found[str(usage.values[1])] = (
                self.product_of(usage.values[3]),
                self.product_of(usage.values[4]),
                self.frame(moved.values[3]),
            )
        return found

    def units(self) -> set[tuple[str, ...]]:
        """The unit of length of every context: prefix and name."""
        return {
            tuple(value.word for value in record.values if isinstance(value, Enum))
            for records in self.instances.values()
            if any(one.name == "LENGTH_UNIT" for one in records)
            for record in records
            if record.name == "SI_UNIT"
        }


def _refs(value: object) -> Iterator[Ref]:
    if isinstance(value, Ref):
        yield value
    elif isinstance(value, Entity):
        yield from _refs(value.values)
    elif isinstance(value, tuple):
        for inner in value:
            yield from _refs(inner)
