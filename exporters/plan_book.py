"""plan-book.pdf: the book's data and pictures, set in pages."""

from drawings.paper import SIZES
from exporters.book.content import content
from exporters.book.pages import Pages
from exporters.typeset import pdf
from specs.spec import Paper

INCH_PAPERS = frozenset({Paper.LETTER, Paper.TABLOID, Paper.ASME_C, Paper.ASME_D, Paper.ASME_E})


def book_paper(paper: Paper) -> tuple[float, float]:
    """The book's own page, upright: A4, or Letter where the drawings are on inch sheets (mm)."""
    wide, high = SIZES[Paper.LETTER if paper in INCH_PAPERS else Paper.A4]
    return (min(wide, high), max(wide, high))


def plan_book(pages: Pages) -> bytes:
    """Set the book.

    Raises:
        BuildError: it cannot be set.
    """
    data, pictures = content(pages)
    data["page"] = list(book_paper(pages.spec.drawings.paper))
    pictures |= {f"{name}.svg": picture for name, picture in pages.pictures.items()}
    pictures |= {f"sheet-{place}.svg": sheet.picture for place, sheet in enumerate(pages.sheets, 1)}
    return pdf("plan-book", data, pictures)
