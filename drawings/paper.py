"""Sheets, scales, line widths and lettering from the drawing standards, as plain numbers.

Sources: ISO 216 (trimmed sizes), ISO 5457:1999 (drawing space, margins, frame), ISO 5455:1979
(scales), ISO 128-2:2020 (line widths), ISO 3098 (lettering), ISO 7200:2004 (title block),
ASME Y14.1 (sizes), Y14.2 (lines). All from memory but ISO 216, 3098 and 7200. Lengths in mm.
"""

from dataclasses import dataclass

from specs.spec import Paper

INCH = 25.4


SIZES: dict[Paper, tuple[float, float]] = {
    Paper.A4: (210.0, 297.0),  # portrait only (ISO 5457:1999)
    Paper.A3: (420.0, 297.0),
    Paper.A2: (594.0, 420.0),
    Paper.A1: (841.0, 594.0),
    Paper.A0: (1189.0, 841.0),
    Paper.LETTER: (11 * INCH, 8.5 * INCH),
    Paper.TABLOID: (17 * INCH, 11 * INCH),
    Paper.ASME_C: (22 * INCH, 17 * INCH),
    Paper.ASME_D: (34 * INCH, 22 * INCH),
    Paper.ASME_E: (44 * INCH, 34 * INCH),
}
"""Width and height as the sheet is read (mm): ISO 216 trimmed; ASME Y14.1."""

LARGER: dict[Paper, Paper] = {
    Paper.A4: Paper.A3,
    Paper.A3: Paper.A2,
    Paper.A2: Paper.A1,
    Paper.A1: Paper.A0,
    Paper.LETTER: Paper.TABLOID,
    Paper.TABLOID: Paper.ASME_C,
    Paper.ASME_C: Paper.ASME_D,
    Paper.ASME_D: Paper.ASME_E,
}
"""The next sheet when a drawing does not fit."""

FILING_MARGIN = 20.0
MARGIN = 10.0
"""Left, and the other three sides: ISO 5457:1999; kept for inch sheets too."""

FRAME = 0.7
WIDE = 0.5
NARROW = 0.25
LETTERING = 0.35
"""Line group of A4 to A2: ISO 128-2's widths at 2:1, graphics at 5/7."""

WIDE_LARGE = 0.7
NARROW_LARGE = 0.35
"""Line group of A1 and A0."""

LETTER = 3.5
TITLE_LETTER = 5.0
SMALL_LETTER = 2.5
"""Heights from ISO 3098's list: numbers and notes, titles, the words inside a title block."""

ARROW = 3.5
"""Length of a closed filled arrow head: usual 10 narrow lines or the text's height (ISO 129-1)."""

ROW = 8.0
"""Dimension line to dimension line; the first stands as far from the view (at least 6, ASME
Y14.5 asks 10 for the first)."""

FIRST_ROW = 10.0
GAP = 1.5
OVERRUN = 2.0
"""Extension lines: clear of the part (ASME Y14.5), past the dimension line (8 narrow lines)."""


@dataclass(frozen=True, slots=True, order=True)
class Scale:
    """So many mm on paper for so many of the part."""

    paper: int
    real: int

    @property
    def factor(self) -> float:
        """Paper mm for one real mm."""
        return self.paper / self.real

    def __str__(self) -> str:
        return f"{self.paper}:{self.real}"


SCALES = (
    Scale(5, 1),
    Scale(2, 1),
    Scale(1, 1),
    Scale(1, 2),
    Scale(1, 5),
    Scale(1, 10),
    Scale(1, 20),
    Scale(1, 50),
    Scale(1, 100),
)
"""ISO 5455:1979, the largest that a workshop wants first."""
