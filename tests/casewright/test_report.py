"""What the program says, line by line."""

import io

import pytest

from casewright import report
from casewright.progress import Progress
from casewright.sums import worked
from ground.findings import Finding, Severity
from ground.quantities import Units
from models.parts.assembly import Sum
from tests.helpers.small_piece import PIECE


def a_sum(*terms: float) -> Sum:
    return Sum(subject="drawer 1", what="depth", terms=tuple(("term", term) for term in terms))


@pytest.mark.parametrize(
    ("terms", "expected"),
    [
        ((20.0, 3.0, 350.0, 39.0), "20 + 3 + 350 + 39 = 412"),
        ((520.0, -42.0), "520 - 42 = 478"),
        ((478.0, 15.0, 15.0), "478 + 2 x 15 = 508"),
        ((7.0,), "7 = 7"),
    ],
)
def test_a_sum_reads_as_a_maker_writes_it(terms, expected):
    assert worked(a_sum(*terms), Units.MM) == expected


def test_a_sum_closes_though_its_terms_are_rounded():
    """Three of 33.34 show as 33.3 each; 100.02 shows as 100: the last term is 33.4."""
    assert worked(a_sum(33.34, 33.34, 33.34), Units.MM) == "2 x 33.3 + 33.4 = 100"


def test_an_inch_piece_has_the_millimetres_beside_it():
    """19.05 + 3 + 381 + 12.7 = 415.75 mm: 3/4, 1/8, 15; 16-3/8 leaves 1/2 for the last."""
    line = worked(a_sum(19.05, 3.0, 381.0, 12.7), Units.INCH)
    assert line == "3/4 + 1/8 + 15 + 1/2 = 16-3/8  (19.1 + 3 + 381 + 12.7 = 415.8 mm)"


def test_findings_stand_by_severity_with_number_limit_and_source():
    warning = Finding(
        code="hold.wall",
        severity=Severity.WARNING,
        subject="leg",
        message="thin",
        value=2.50001,
        unit="mm",
    )
    lines = list(report.of_findings((warning, *PIECE.findings)))
    assert lines == [
        "Errors",
        "  drawer 2/1: too long (value 450 mm, limit 412 mm, the data sheet) [fit.runner_depth]",
        "",
        "Warnings",
        "  leg: thin (value 2.5 mm, common practice, no source) [hold.wall]",
        "",
        "1 error, 1 warning, no notes",
    ]


def test_a_check_says_sizes_openings_and_sums():
    lines = list(report.of_check(PIECE, (), Units.MM))
    assert lines == [
        "Lüttes Ding: 4 distinct parts, 5 pieces in all",
        "",
        "Openings, clear (mm): width x height x depth",
        "  10   500 x 200 x 400  open",
        "  2/1  520 x 115.7 x 412  drawers",
        "",
        "Sums to check on paper (mm)",
        "  drawer 2/1, depth: 20 + 3 + 350 + 39 = 412",
        "    (front, gap, runner, spare)",
        "",
        "no errors, no warnings, no notes",
    ]


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_progress_on_a_terminal_is_one_line_that_is_cleared():
    stream = Terminal()
    with Progress(stream) as progress:
        progress.expect(2)
        progress.in_hand("D2 drawer side\n\x1b[31m")
        progress.done()
        progress.in_hand("D3 front")
    frames = stream.getvalue().split("\r")
    assert [frame.rstrip() for frame in frames] == [
        "",
        "0/2 D2 drawer side[31m",
        "1/2 D3 front",
        "",
        "",
    ]
    assert "\n" not in stream.getvalue()
    assert len(frames[2]) == len(frames[1])


def test_progress_elsewhere_is_quiet():
    stream = io.StringIO()
    with Progress(stream) as progress:
        progress.in_hand("D2 drawer side")
    assert stream.getvalue() == ""
