"""Colour under a line picture: every face flat in its material's colour, hidden ones left out.

A depth buffer over the front faces of the meshes, small because the lines above it are sharp.
"""

import base64
import struct
import zlib
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from exporters.looks import RGB
from ground.vectors import Frame, Vec, cross
from models.parts.views import Point
from models.solids.mesh_record import Mesh

Doubles = NDArray[np.float64]
Octets = NDArray[np.uint8]

WIDE = 720
"""Pixels across: one is a quarter of a millimetre on the cover."""
LIGHT: Vec = (-0.35, -0.55, 0.76)
"""Where the light comes from, in piece axes: over the left shoulder."""
DARKEST = 0.72
SLIVER = 1e-6
"""Twice the area of a triangle that is seen edge on (square pixels)."""
PALE = 0.22
"""So much white is mixed in, that lines and type stay the darkest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tinted:
    """A mesh in its place and its colour (sRGB, 0 to 1)."""

    mesh: Mesh
    placement: Frame
    colour: RGB


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """The part of the paper that is coloured: its corners (mm), what is right and up on it."""

    low: Point
    high: Point
    right: Vec
    up: Vec


def tint(bodies: Iterable[Tinted], window: Window) -> str:
    """The colours as an image's address: a PNG with clear ground, coded into it."""
    wide, tall = window.high[0] - window.low[0], window.high[1] - window.low[1]
    scale = WIDE / wide
    size = (max(1, round(tall * scale)), WIDE)
    picture = np.zeros((*size, 4), dtype=np.uint8)
    depths = np.full(size, -np.inf)
    towards = cross(window.right, window.up)
    axes = np.array((window.right, window.up, towards))
    for body in nearest_first(bodies, towards):
        turn = np.array((body.placement.x, body.placement.y, body.placement.z))
        points = body.mesh.points @ turn + np.array(body.placement.origin)
        seen = points @ axes.T
        pixels = np.column_stack(
            (
                (seen[:, 0] - window.low[0]) * scale,
                (window.high[1] - seen[:, 1]) * scale,
                seen[:, 2],
            )
        )
        fill(picture, depths, pixels[body.mesh.triangles], shades(points, body))
    return f"data:image/png;base64,{base64.b64encode(png(picture)).decode()}"


def nearest_first(bodies: Iterable[Tinted], towards: Vec) -> list[Tinted]:
    """The bodies by how near to the eye they are: what hides others is painted before them."""

    def near(body: Tinted) -> float:
        turn = np.array((body.placement.x, body.placement.y, body.placement.z))
        middle = body.mesh.points.mean(axis=0) @ turn + np.array(body.placement.origin)
        return float(middle @ np.array(towards))

    return sorted(bodies, key=near, reverse=True)


def shades(points: Doubles, body: Tinted) -> Octets:
    """The colour of each triangle: brighter the more it faces the light."""
    a, b, c = (points[body.mesh.triangles[:, corner]] for corner in range(3))
    normals = np.cross(b - a, c - a)
    lengths = np.linalg.norm(normals, axis=1)
    facing = np.clip((normals / np.maximum(lengths, 1e-12)[:, None]) @ np.array(LIGHT), 0.0, 1.0)
    bright = DARKEST + (1.0 - DARKEST) * facing
    mixed = np.array(body.colour) * (1.0 - PALE) + PALE
    found: Octets = np.round(np.outer(bright, mixed) * 255).astype(np.uint8)
    return found


def fill(picture: Octets, depths: Doubles, triangles: Doubles, colours: Octets) -> None:
    """Paint front faces into the picture where nothing painted is nearer."""
    xs, ys = triangles[:, :, 0], triangles[:, :, 1]
    doubled = (xs[:, 1] - xs[:, 0]) * (ys[:, 2] - ys[:, 0]) - (xs[:, 2] - xs[:, 0]) * (
        ys[:, 1] - ys[:, 0]
    )
    # y runs down: what turns clockwise on paper faces the eye
    for place in np.flatnonzero(doubled < -SLIVER).tolist():
        paint(picture, depths, triangles[place], float(doubled[place]), colours[place])


def paint(
    picture: Octets, depths: Doubles, corners: Doubles, doubled: float, colour: Octets
) -> None:
    """One triangle, its depth even over it."""
    low = np.maximum(np.floor(corners[:, :2].min(axis=0)).astype(int), 0)
    limit = (depths.shape[1] - 1, depths.shape[0] - 1)
    high = np.minimum(np.ceil(corners[:, :2].max(axis=0)).astype(int), limit)
    if low[0] > high[0] or low[1] > high[1]:
        return
    rows, columns = slice(low[1], high[1] + 1), slice(low[0], high[0] + 1)
    if depths[rows, columns].min() > corners[:, 2].max():
        return  # all of it lies behind what is painted already
    x = np.arange(low[0], high[0] + 1) + 0.5
    y = (np.arange(low[1], high[1] + 1) + 0.5)[:, None]
    (ax, ay, az), (bx, by, bz), (cx, cy, cz) = corners.tolist()
    of_c = ((bx - ax) * (y - ay) - (x - ax) * (by - ay)) / doubled
    of_b = ((x - ax) * (cy - ay) - (cx - ax) * (y - ay)) / doubled
    of_a = 1.0 - of_b - of_c
    depth = of_a * az + of_b * bz + of_c * cz
    nearer = (of_a >= 0) & (of_b >= 0) & (of_c >= 0) & (depth > depths[rows, columns])
    depths[rows, columns][nearer] = depth[nearer]
    picture[rows, columns][nearer] = (*colour.tolist(), 255)


def png(picture: Octets) -> bytes:
    """A picture of red, green, blue and cover as PNG (ISO/IEC 15948), the same bytes each time."""
    tall, wide = picture.shape[:2]
    rows = np.zeros((tall, 1 + wide * 4), dtype=np.uint8)
    rows[:, 1:] = picture.reshape(tall, wide * 4)
    head = struct.pack(">IIBBBBB", wide, tall, 8, 6, 0, 0, 0)
    chunks = ((b"IHDR", head), (b"IDAT", zlib.compress(rows.tobytes(), 6)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        for name, data in chunks
    )
