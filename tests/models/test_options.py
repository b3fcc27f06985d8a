"""What a spec asks of a joint is made, refused or told: no key is passed over in silence."""

from collections.abc import Callable, Iterator
from typing import get_args

import pytest
from pydantic import BaseModel

from ground.errors import SpecError
from models.setting_out.bench import Bench
from models.setting_out.trouble import SettingOutError
from specs import joints
from tests.helpers.bases import bedside, reading_room
from tests.helpers.rooms import filled
from tests.helpers.small_case import EDGED, small_case, small_spec
from tests.models.test_door_frames import BAY
from tests.models.test_door_frames import framed as frame_of

ASKED = {
    "clearance": ("0.9 mm",),
    "thickness": ("6.3 mm",),
    "width": ("13 mm",),
    "depth": ("7.5 mm",),
    "length": ("31 mm",),
    "diameter": ("5.5 mm",),
    "count": ("1", "3"),
    "with": ("screw", "pocket screw"),
    "plugs": ("oak",),
    "from": ("inside",),
    "open": ("top", "bottom", "front", "back"),
    "stop": ("17 mm",),
    "haunch": ("true", "false"),
}
"""Something else than what goes without saying, for every key of every joint."""
USUAL = ("count", "haunch", "open")
"""Of these one of the values may be the usual one."""


def corner(kind: str) -> Callable[[str], Bench]:
    """A corner of the case, top and bottom alike."""

    def laid(joint: str) -> Bench:
        spec = small_spec(f"{{top: {kind}, bottom: {kind}}}", f"{{top: {joint}, bottom: {joint}}}")
        return small_case(spec)[0]

    return laid


def divider(split: str) -> Callable[[str], Bench]:
    """A divider, upright or level."""

    def laid(joint: str) -> Bench:
        inside = (
            f"split: {split}\n  dividers: {{material: panel, joint: {joint},"
            " edging: {kind: solid, material: oak, thickness: 5}}\n"
            "  into: [{size: 1 share, open: true}, {size: 1 share, open: true}]"
        )
        return small_case(small_spec("{top: mitre, bottom: butt}", inside=inside))[0]

    return laid


def rail(joint: str) -> Bench:
    """A rail under the top."""
    sizes = "material: oak, height: 60, thickness: 20"
    more = f"{EDGED}\n  rails: {{under_top: {{{sizes}, joint: {joint}}}}}"
    return small_case(small_spec("{top: butt, bottom: butt}", more=more))[0]


def stretcher(base: Callable[..., Bench]) -> Callable[[str], Bench]:
    """A stretcher between the aprons of a base."""

    def laid(joint: str) -> Bench:
        sizes = "material: oak, height: 45 mm, thickness: 21 mm"
        return base(rest=f"stretchers: {{count: 1, {sizes}, joint: {joint}}}")

    return laid


def aprons(base: Callable[..., Bench]) -> Callable[[str], Bench]:
    """The aprons of a base."""
    return lambda joint: base(joint=joint, rest="")


def framed(joint: str) -> Bench:
    """A door of a frame and a panel."""
    return filled(frame_of(joint=f", joint: {joint}"), BAY).bench


PLACES: dict[str, tuple[Callable[[str], Bench], object]] = {
    "mitre": (corner("mitre"), joints.CaseJoint),
    "butt over": (corner("{kind: butt, runs: over}"), joints.CaseJoint),
    "butt between": (corner("{kind: butt, runs: between}"), joints.CaseJoint),
    "rabbet": (corner("rabbet"), joints.CaseJoint),
    "dado": (corner("dado"), joints.CaseJoint),
    "upright divider": (divider("upright"), joints.DividerJoint),
    "level divider": (divider("level"), joints.DividerJoint),
    "rail": (rail, joints.StretcherJoint),
    "plumb aprons": (aprons(bedside), joints.ApronJoint),
    "leaning aprons": (aprons(reading_room), joints.ApronJoint),
    "plumb stretcher": (stretcher(bedside), joints.StretcherJoint),
    "leaning stretcher": (stretcher(reading_room), joints.StretcherJoint),
    "door frame": (framed, joints.ApronJoint),
}


def kinds(union: object) -> Iterator[type[BaseModel]]:
    """The joints of one of the spec's unions."""
    yield from get_args(get_args(union)[0])


def word(kind: type[BaseModel]) -> str:
    """The word of a joint in the spec."""
    return str(get_args(kind.model_fields["kind"].annotation)[0])


def outcome(place: Callable[[str], Bench], joint: str) -> object:
    """All that a joint leads to: what is cut, loose, bought and found, or why it is refused."""
    try:
        bench = place(joint)
    except (SpecError, SettingOutError) as refused:
        return str(refused)
    drafts = [(key, draft.blank, draft.features) for key, draft in bench.drafts.items()]
    return (drafts, bench.joints, bench.hardware, bench.findings)


@pytest.mark.parametrize("name", PLACES)
def test_every_key_of_every_joint_does_something_or_is_refused(name: str) -> None:
    place, union = PLACES[name]
    silent: list[str] = []
    for kind in kinds(union):
        plain = outcome(place, f"{{kind: {word(kind)}}}")
        for field, info in kind.model_fields.items():
            key = info.alias or field
            if key == "kind":
                continue
            same = [
                f"{word(kind)}, {key}: {value}"
                for value in ASKED[key]
                if outcome(place, f"{{kind: {word(kind)}, {key}: {value}}}") == plain
            ]
            if key not in USUAL or len(same) == len(ASKED[key]):
                silent += same
    assert silent == []
