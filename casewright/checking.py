"""Read, set out and check a spec, without the CAD kernel."""

from dataclasses import dataclass, replace
from pathlib import Path

from ground.findings import Finding, Severity
from models.parts.assembly import Assembly
from specs.reading import Loaded
from specs.spec import Spec


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """A spec that can be set out: what comes of it and what there is to say about it."""

    spec: Spec
    assembly: Assembly
    findings: tuple[Finding, ...]


def check(path: Path) -> Checked:
    """Read, set out and check the spec at ``path``.

    Raises:
        SpecError: the text cannot be used, or no piece can be set out from it.
    """
    from specs.reading import load

    loaded = load(path)
    return look(loaded.spec, assembled(loaded))


def assembled(loaded: Loaded) -> Assembly:
    """The piece of a spec that was read.

    Raises:
        SpecError: no piece can be set out from it.
    """
    from models.setting_out.piece import set_out
    from models.setting_out.trouble import SettingOutError

    try:
        return set_out(loaded.spec)
    except SettingOutError as error:
        raise loaded.complain(error.problems) from None


def look(spec: Spec, assembly: Assembly) -> Checked:
    """Look at a piece that was set out."""
    from checks.all import look as every_check
    from exporters.masses import findings as unknown_masses
    from planning.saw.troubles import out_of_reach

    looked = every_check(assembly, spec)
    assembly = replace(assembly, hardware=(*assembly.hardware, *looked.hardware))
    found = (
        *assembly.findings,
        *unknown_masses(assembly, spec.materials),
        *out_of_reach(assembly, spec.shop),
        *looked.findings,
    )
    return Checked(spec=spec, assembly=assembly, findings=found)


def has_error(findings: tuple[Finding, ...]) -> bool:
    """Tell whether something can be set out but not made or used."""
    return any(found.severity is Severity.ERROR for found in findings)
