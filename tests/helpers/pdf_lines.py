"""Straight lines of a PDF page in mm, read by a small walk over its drawing operators."""

from collections.abc import Iterator
from typing import Any

from pypdf import PageObject
from pypdf.generic import ContentStream

MM = 25.4 / 72
Matrix = tuple[float, float, float, float, float, float]
Segment = tuple[tuple[float, float], tuple[float, float]]


def times(m: Matrix, n: Matrix) -> Matrix:
    """First ``m``, then ``n``."""
    a, b, c, d, e, f = m
    g, h, i, j, k, o = n
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j,
            e * g + f * i + k, e * h + f * j + o)  # fmt: skip


def point(m: Matrix, x: float, y: float) -> tuple[float, float]:
    """A point on the page in mm."""
    a, b, c, d, e, f = m
    return ((a * x + c * y + e) * MM, (b * x + d * y + f) * MM)


def segments(page: PageObject) -> list[Segment]:
    """Every straight line that is drawn, forms within forms too."""
    contents = page.get_contents()
    assert contents is not None
    return list(walk(contents, page["/Resources"], (1, 0, 0, 1, 0, 0), page.pdf))


def matrix(values: Any) -> Matrix:
    """Six numbers of the file."""
    a, b, c, d, e, f = (float(value) for value in values)
    return (a, b, c, d, e, f)


def walk(stream: Any, resources: Any, start: Matrix, pdf: Any) -> Iterator[Segment]:
    """The lines of one stream, and of the forms that it draws."""
    now, kept = start, []
    at = (0.0, 0.0)
    for operands, operator in ContentStream(stream, pdf).operations:
        if operator == b"q":
            kept.append(now)
        elif operator == b"Q":
            now = kept.pop()
        elif operator == b"cm":
            now = times(matrix(operands), now)
        elif operator == b"Do":
            yield from form_lines(resources["/XObject"][operands[0]].get_object(), now, pdf)
        elif operator in (b"m", b"l", b"c"):
            end = (float(operands[-2]), float(operands[-1]))
            if operator == b"l":
                yield point(now, *at), point(now, *end)
            at = end


def form_lines(form: Any, now: Matrix, pdf: Any) -> Iterator[Segment]:
    """The lines of a form; pictures have none."""
    if form["/Subtype"] == "/Form":
        own = matrix(form.get("/Matrix", (1, 0, 0, 1, 0, 0)))
        yield from walk(form, form["/Resources"], times(own, now), pdf)
