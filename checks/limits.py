"""How much sag is too much, by whom."""

AWS = 144
AWS_SOURCE = "L/144, Architectural Woodwork Standards 1st ed. (2009) 1.2.21"
SHELF_TEST = 192
SHELF_TEST_MOST = 6.4
"""However long the span (mm; ANSI/KCMA A161.1 structural test)."""
SHELF_TEST_SOURCE = "L/192 and 6.4 mm at most, ANSI/KCMA A161.1 structural test"
TO_THE_EYE = 384
TO_THE_EYE_SOURCE = "L/384 starts to show, common practice, no source"


def shelf_test(span: float) -> float:
    """The part of a span (mm) that the structural test lets it sag: 192, more for long ones."""
    return max(SHELF_TEST, span / SHELF_TEST_MOST)
