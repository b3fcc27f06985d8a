"""The plan book's words and numbers as plain data, ready for the page: nothing is worked out there.

Whatever comes from the spec goes through ``plain`` and into JSON; the page shows strings as they
are, so nothing in a spec can become markup.
"""

from collections.abc import Iterable
from typing import Any

from exporters.book import cutting, jigs, sawing, steps, stock, tables
from exporters.book.finishing import finish, hours
from exporters.book.needs import buying, needs
from exporters.book.pages import Pages
from exporters.names import plain
from exporters.tables import rounding
from ground.findings import Finding, Severity
from ground.order import natural
from ground.quantities import Units, mass_text
from models.parts.assembly import Assembly
from models.parts.part import PartKind
from specs.spec import Spec

HEADS = {
    Severity.ERROR: "Errors: not to be made as it stands",
    Severity.WARNING: "Cautions: at a risk or a cost",
    Severity.NOTE: "Notes: worth knowing",
}
TOPICS = {
    "tip": "standing",
    "carry": "carrying",
    "caution": "every check",
    "movement": "solid wood",
    "sag": "sag",
    "racking": "a push",
    "saw": "at the saw",
    "plan": "sheets and boards",
    "finish": "finish",
    "mass": "mass",
}
"""What the first word of a finding's code is about; what is not here is said as it is."""


def content(pages: Pages) -> tuple[dict[str, Any], dict[str, str]]:
    """Everything in the order of the book, and its pictures; what is not known is left out."""
    spec, assembly = pages.spec, pages.assembly
    cuts = pages.cuts
    made_of, cut_pictures = stock.told(cuts.stock if cuts else (), spec.units)
    saws, saw_pictures = sawing.told(pages.set_ups, assembly, spec.shop, spec.units)
    aids, jig_pictures = jigs.told(pages.jigs, spec.units)
    data = {
        "units": spec.units.value,
        "title": plain(spec.name),
        "cover": cover(pages),
        "findings": [
            {"head": HEADS[severity], "severity": severity.value, "topics": topics}
            for severity in Severity
            if (topics := finding_topics(pages.findings, severity))
        ],
        "openings": openings(spec, assembly) if assembly.openings else None,
        "sums": [[plain(subject), plain(line)] for subject, line in pages.sums],
        "needs": needs(pages),
        "hardware": tables.hardware(assembly.hardware) if assembly.hardware else None,
        "buying": buying(cuts.purchases, spec) if cuts and cuts.purchases else None,
        "finish": finish(pages),
        "hours": hours(pages),
        "cut": cutting.lists(pages),
        "layouts": made_of,
        "drilling": tables.drilling(spec, assembly),
        "saws": saws,
        "jigs": aids,
        "steps": steps.told(pages),
        "sheets": [
            {
                "title": plain(sheet.title),
                "label": sheet.label,
                "picture": f"sheet-{place}.svg",
                "size": list(sheet.size),
            }
            for place, sheet in enumerate(pages.sheets, 1)
        ],
        "labels": labels(spec, assembly),
    }
    return data, cut_pictures | saw_pictures | jig_pictures


def cover(pages: Pages) -> dict[str, Any]:
    """The first page: how large it is, what it is made of, and whether it can be made."""
    units = pages.spec.units
    facts: list[list[str]] = []
    if pages.box is not None:
        low, high = pages.box
        names = ("length", "depth", "height")
        sizes = zip(names, low, high, strict=True)
        facts += [[name, tables.with_unit(b - a, units)] for name, a, b in sizes]
    made = [part for part in pages.assembly.parts if part.made]
    pieces = sum(len(pages.assembly.copies_of(part.label)) for part in made)
    facts.append(["parts to make", f"{pieces}, of {len(made)} kinds"])
    if pages.mass:
        facts.append(["mass, about", mass_text(pages.mass, units)])
    surfaces = dict.fromkeys(tables.materials_told(pages.spec).values())
    count = {s: sum(f.severity is s for f in pages.findings) for s in Severity}
    errors = count[Severity.ERROR]
    asked = pages.spec.drawings
    return {
        "facts": facts,
        "materials": [plain(surface) for surface in surfaces],
        "error": f"Not ready to make: {errors} {'error' if errors == 1 else 'errors'}, overleaf."
        if errors
        else None,
        "picture": "cover.svg" if "cover" in pages.pictures else None,
        "number": plain(asked.number or ""),
        "creator": plain(asked.creator or ""),
        "owner": plain(asked.owner or ""),
        "date": "" if asked.date is None else str(asked.date),
    }


def finding_topics(found: Iterable[Finding], severity: Severity) -> list[dict[str, Any]]:
    """What there is to say at one severity, what is about one thing together."""
    topics: dict[str, list[list[str]]] = {}
    for one in found:
        if one.severity is severity:
            word = one.code.partition(".")[0]
            row = [plain(one.subject), plain(one.message), plain(figures(one)), plain(one.code)]
            topics.setdefault(TOPICS.get(word, word.replace("-", " ")), []).append(row)
    return [{"topic": topic, "rows": rows} for topic, rows in topics.items()]


def figures(found: Finding) -> str:
    """The number, the limit and where the limit is from."""
    unit = f" {found.unit}" if found.unit else ""
    said = [
        f"{word} {value:.4g}{unit}"
        for word, value in (("value", found.value), ("limit", found.limit))
        if value is not None
    ]
    return ", ".join([*said, found.source]) if said else ""


def openings(spec: Spec, assembly: Assembly) -> dict[str, Any]:
    """The clear size of every opening; what fittings are made to fit stands in mm as well."""
    units = spec.units
    names = ("width", "height", "depth")
    heads = [*names, *(f"{name}, mm" for name in names if units is Units.INCH)]
    columns = (
        tables.Column(head="opening"),
        tables.Column(head="holds", share=1.0),
        *(tables.Column(head=head, number=True) for head in heads),
    )
    found = sorted(assembly.openings, key=lambda opening: natural(opening.id))
    rows = (
        [
            opening.id,
            opening.kind,
            *(
                tables.size(length, unit)
                for unit in dict.fromkeys((units, Units.MM))
                for length in (opening.width, opening.height, opening.depth)
            ),
        ]
        for opening in found
    )
    return tables.table(columns, rows)


def labels(spec: Spec, assembly: Assembly) -> list[list[str]]:
    """A label for every copy that is made, but loose pieces: label, name, which of how many, size.

    The size is the blank's: it finds the piece that the label belongs on.
    """
    made = [p for p in assembly.parts if p.made and p.kind is not PartKind.LOOSE]
    return [
        [
            part.label,
            plain(part.name),
            f"{place} of {len(copies)}" if len(copies) > 1 else "",
            tables.sizes(part.blank.size, spec.units, rounding(part)),
        ]
        for part in sorted(made, key=lambda part: natural(part.label))
        for copies in (assembly.copies_of(part.label),)
        for place in range(1, len(copies) + 1)
    ]
