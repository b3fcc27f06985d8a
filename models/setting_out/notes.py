"""Findings that several rooms of the setting out write."""

from ground.findings import FROM_THE_SPEC, Finding, Severity


def not_made(what: str, where: str, *keys: str) -> Finding:
    """A note that ``what`` is asked for at ``where`` and is not cut or drawn yet."""
    return Finding(
        code="not-made." + what.replace(" ", "-"),
        severity=Severity.NOTE,
        subject=where,
        message=f"{what}: asked for, and not made by this version; cut it by hand",
        copies=keys,
        source=FROM_THE_SPEC,
    )
