"""What is said with every check, whatever it finds."""

from ground.findings import Finding, Severity

ESTIMATE = (
    "Static estimate only. Not a test and not a certificate. Clothing storage sold in the USA must"
    " be tested physically to 16 CFR 1261 / ASTM F2057 (current edition); in Europe see EN 14749."
    " Local codes, the standards' physical tests and licensed practice go before every number here."
)
ANCHOR = "Anchor to the wall with a restraint suited to the wall, whatever the ratio."
NOT_MODELLED = (
    "Not modelled: impact, climbing dynamics, carpet compression, uneven floors, drawer sag,"
    " interlocks, contents other than assumed."
)
USE = "Heavy items low; do not open several drawers; keep televisions off units not made for them."
CAUTIONS = (
    ("caution.estimate", ESTIMATE),
    ("caution.anchor", ANCHOR),
    ("caution.not_modelled", NOT_MODELLED),
    ("caution.use", USE),
)
"""Code and text of each."""


def cautions() -> tuple[Finding, ...]:
    """Every caution, as findings that go wherever findings go."""
    return tuple(
        Finding(
            code=code,
            severity=Severity.NOTE,
            subject="every check",
            message=text,
            source="practice of stability standards: ASTM F2057, 16 CFR 1261, EN 14749",
        )
        for code, text in CAUTIONS
    )
