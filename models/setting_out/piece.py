"""The whole piece: the rooms of the setting out, one after the other."""

from dataclasses import replace

from ground.vectors import Z
from models.parts.assembly import Assembly
from models.setting_out.anchor import lay_anchors
from models.setting_out.back import lay_back
from models.setting_out.back_screws import screw_back
from models.setting_out.base import lay_base
from models.setting_out.bench import Bench
from models.setting_out.case import case_numbers, grain_note, lay_case
from models.setting_out.doors import lay_doors
from models.setting_out.drawers import lay_drawers
from models.setting_out.numbers import Leaf
from models.setting_out.openings import divide, record
from models.setting_out.proof import proved
from models.setting_out.rails import KEY as RAIL
from models.setting_out.rails import lay_rails
from models.setting_out.shelves import lay_shelves
from specs.spec import Spec


def set_out(spec: Spec) -> Assembly:
    """Work out every part of the piece and where it stands.

    Raises:
        SettingOutError: no piece can be set out from the numbers.
    """
    bench = Bench()
    case = case_numbers(spec)
    lay_case(bench, spec, case)
    lay_back(bench, spec, case)
    room = lay_rails(bench, spec, case)
    whole = Leaf(
        id="",
        path=("inside",),
        spec=spec.inside,
        box=room,
        left="case/side left",
        right="case/side right",
        below="case/bottom",
        above="case/top" if spec.case.rails.under_top is None else RAIL,
    )
    # An inside that is not divided is opening 1.
    leaves = [
        leaf if leaf.id else replace(leaf, id="1") for leaf in divide(bench, spec, whole, None)
    ]
    _fill(bench, spec, leaves)
    lay_anchors(bench, spec, case)
    screw_back(bench, spec, case)
    uprights = tuple(
        (key, draft.frame.point(draft.blank.centre)[0])
        for key, draft in bench.drafts.items()
        if draft.name == "divider" and draft.frame.x == Z
    )
    lay_base(bench, spec, case, uprights)
    note = grain_note(spec)
    if note is not None:
        bench.find(note)
    return proved(bench.assembly(spec.name))


def _fill(bench: Bench, spec: Spec, leaves: list[Leaf]) -> None:
    """Fill the openings and record each with what now stands in it.

    One sort of thing after the other, so that what gives way to what does not depend on which
    opening stands left: a symmetrical piece comes out symmetrical.
    """
    contents: dict[str, list[str]] = {leaf.id: [] for leaf in leaves}
    rooms = (
        (lay_doors, [leaf for leaf in leaves if leaf.spec.doors is not None]),
        (lay_shelves, [leaf for leaf in leaves if leaf.spec.shelves is not None]),
        (lay_drawers, [leaf for leaf in leaves if leaf.spec.drawers is not None]),
    )
    for lay, leaf in ((lay, leaf) for lay, filled in rooms for leaf in filled):
        before = set(bench.drafts)
        lay(bench, spec, leaf)
        contents[leaf.id] += [key for key in bench.drafts if key not in before]
    bench.openings.extend(record(leaf, tuple(contents[leaf.id])) for leaf in leaves)
