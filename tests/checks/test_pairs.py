"""Every finding that can be mended: a spec that must raise it, one just inside, and the mended one.

A finding of a new code has to come with its pair: a test reads the codes from the source.
"""

import re
from collections.abc import Callable, Iterable
from typing import NamedTuple

import pytest

from checks.across import find_across
from checks.air import unknown
from checks.anchoring import find_anchoring
from checks.bearing import find_bearing
from checks.cautions import CAUTIONS
from checks.cuts_meet import find_cuts_meet
from checks.fit import find_fit
from checks.fittings import find_fittings
from checks.fronts import find_fronts
from checks.motion import find_motion
from checks.on_base import find_on_base
from checks.placed import Piece
from checks.purpose import find_purpose
from checks.racking import find_racking
from checks.sag import find_sag
from checks.shared import find_shared
from checks.tipping import find_tipping
from checks.way_in import find_way
from ground.findings import Finding, Severity
from specs.spec import Spec
from tests.checks.test_cuts_meet import bored
from tests.helpers.checked import looked
from tests.helpers.examples import BEDSIDE, CHEST, DEMO, changed, spec
from tests.helpers.repository import ROOT
from tests.helpers.to_check import (
    anchored,
    blockboard,
    chest,
    cup,
    divided,
    door,
    door_gap,
    drawers,
    example,
    framed,
    going,
    holding,
    in_air,
    level,
    loaded,
    narrower,
    on_legs,
    opens,
    pushed,
    set_back,
    shelf,
    solid_bottom,
    solid_divider,
    tall,
    thin_tenon,
    travel,
    wide_door,
    without_base,
)

Made = Spec | Piece
Check = Callable[[Piece], Iterable[Finding]]

TOLD = {
    "carry.mass",
    *(code for code, _ in CAUTIONS),
    "cost.wood",
    "finish.area",
    "holds.fits",
    "motion.clear",
    "movement.fronts_keep",
    "racking.push",
    "sag.within",
    "tip.ratios",
    "way.passes",
}
"""What is told of a sound piece: numbers, and the cautions."""


class Pair(NamedTuple):
    """``over`` raises a finding and ``under`` does not; ``mend`` does what its message says."""

    check: Check
    over: Callable[[], Made]
    under: Callable[[], Made]
    mend: Callable[[str], Made] | None = None


def found(made_of: Made, check: Check) -> dict[str, Finding]:
    of = made_of if isinstance(made_of, Piece) else looked(made_of)
    return {one.code: one for one in check(of)}


def number(words: str, message: str) -> float:
    """The number that stands where ``#`` does in ``words``."""
    told = re.search(re.escape(words).replace(r"\#", r"([\d.]+)"), message)
    assert told, message
    return float(told[1])


PAIRS: dict[str, Pair] = {
    "fit.gap": Pair(find_fit, lambda: narrower(0.3), lambda: narrower(0.04)),
    "fit.comes_through": Pair(
        find_fit,
        lambda: cup(19.2),
        lambda: cup(18.4),
        lambda said: cup(number("make it # mm deep", said)),
    ),
    "fit.overlap": Pair(
        find_shared,
        lambda: pushed(DEMO, "shelf", (3.0, 0.0, 0.0)),
        lambda: pushed(DEMO, "shelf", (0.5, 0.0, 0.0)),
    ),
    "fit.hole_in_cut": Pair(find_cuts_meet, lambda: bored(4.5), lambda: bored(5.2)),
    "motion.meets": Pair(
        find_motion,
        lambda: opens(178, pulled=True),
        lambda: opens(110, pulled=True),
        lambda said: opens(number("opens to # degrees", said), pulled=True),
    ),
    "motion.both_open": Pair(
        find_motion,
        lambda: opens(96),
        lambda: opens(94),
        lambda said: opens(number("open to # degrees", said)),
    ),
    "motion.tight": Pair(
        find_motion,
        lambda: door_gap(1.6),
        lambda: door_gap(1.9),
        lambda said: door_gap(1.6 + number("give it # mm more", said)),
    ),
    "sag.top": Pair(find_sag, lambda: chest(3, rail=False), lambda: chest(3, rail=True)),
    "sag.shelf": Pair(
        find_sag,
        lambda: shelf(400),
        lambda: shelf(20, panel=22),
        lambda said: shelf(400, panel=number("enough would be # mm thick", said)),
    ),
    "sag.bottom": Pair(
        find_sag,
        lambda: loaded(on_legs(length=900), bottom=900, top=50),
        lambda: loaded(on_legs(length=900), bottom=10, top=50),
    ),
    "sag.divider": Pair(
        find_sag,
        lambda: level(400),
        lambda: level(20, 22),
        lambda said: level(400, number("enough would be # mm thick", said)),
    ),
    "sag.drawer_bottom": Pair(
        find_sag,
        lambda: example(CHEST),
        lambda: example(DEMO),
        lambda said: changed(
            CHEST,
            (
                "core: veneer plywood, thickness: 9,",
                f"core: veneer plywood, thickness: {number('enough would be # mm thick', said):g},",
            ),
        ),
    ),
    "sag.apron": Pair(
        find_sag,
        lambda: loaded(on_legs(length=1800, apron=40), top=1500),
        lambda: loaded(on_legs(length=1800, apron=90), top=1500),
        lambda said: loaded(
            on_legs(length=1800, apron=number("an apron # mm high", said) + 1), top=1500
        ),
    ),
    "sag.unknown": Pair(find_sag, blockboard, lambda: example(BEDSIDE)),
    "load.bearing": Pair(
        find_bearing,
        lambda: divided(12),
        lambda: divided(30),
        lambda said: divided(number("make it # mm thick", said) + 0.1),
    ),
    "movement.fronts_bind": Pair(
        find_fronts,
        lambda: in_air(drawers("American beech"), 35, 70.6),
        lambda: in_air(drawers("American beech"), 35, 44),
        lambda said: in_air(drawers("American beech", number("a gap of # mm", said)), 35, 70.6),
    ),
    "movement.fronts_tight": Pair(
        find_fronts,
        lambda: in_air(drawers("white oak"), 40, 54.6),
        lambda: in_air(drawers("white oak"), 40, 54.2),
        lambda said: in_air(drawers("white oak", number("a gap of # mm", said)), 40, 54.6),
    ),
    "movement.fronts_gape": Pair(
        find_fronts,
        lambda: in_air(drawers("American beech"), 15, 40),
        lambda: in_air(drawers("American beech"), 30, 40),
    ),
    "movement.cross_grain": Pair(
        find_across,
        lambda: solid_divider("oak, thickness: 18"),
        lambda: solid_divider("panel"),
        lambda _: solid_divider("panel"),
    ),
    "movement.slot_short": Pair(
        find_across,
        lambda: in_air(drawers("American beech"), 5, 94),
        lambda: in_air(drawers("American beech"), 35, 60),
    ),
    "movement.panel_binds": Pair(
        find_across,
        lambda: framed(8, 35, 80),
        lambda: framed(8, 35, 70),
        lambda said: framed(8 + number("grooves # mm deeper", said), 35, 80),
    ),
    "movement.panel_loose": Pair(
        find_across,
        lambda: framed(8, 15, 50),
        lambda: framed(8, 35, 50),
        lambda said: framed(8 + number("grooves # mm deeper", said), 15, 50),
    ),
    "movement.box_rubs": Pair(
        find_across,
        lambda: changed(BEDSIDE, ("opens: pull}", "opens: pull, above: 0.5 mm}")),
        lambda: changed(BEDSIDE, ("opens: pull}", "opens: pull, above: 2 mm}")),
        lambda said: changed(
            BEDSIDE,
            ("opens: pull}", f"opens: pull, above: {number('the room above # mm', said):g} mm}}"),
        ),
    ),
    "movement.base_fixing": Pair(
        find_on_base,
        lambda: solid_bottom(spec(DEMO)),
        lambda: solid_bottom(in_air(spec(DEMO), 41, 45)),
    ),
    "movement.unknown": Pair(unknown, lambda: drawers("bog oak"), lambda: drawers("white oak")),
    "tip.closed": Pair(
        find_tipping,
        lambda: set_back(300),
        lambda: set_back(50),
        lambda _: anchored(set_back(300)),
    ),
    "tip.all_open": Pair(find_tipping, lambda: travel(700), lambda: travel(100, 700)),
    "tip.all_open_loaded": Pair(find_tipping, lambda: travel(700), lambda: travel(100, 700)),
    "tip.weight": Pair(
        find_tipping,
        lambda: example(CHEST),
        lambda: travel(100, 700),
        lambda _: anchored(spec(CHEST)),
    ),
    "tip.carpet": Pair(
        find_tipping,
        lambda: example(CHEST),
        lambda: travel(100, 700),
        lambda _: anchored(spec(CHEST)),
    ),
    "tip.pull": Pair(find_tipping, lambda: tall(250, 1400), lambda: tall(600, 600)),
    "tip.high": Pair(
        find_tipping,
        lambda: tall(400, 630),
        lambda: tall(400, 620),
        lambda _: anchored(tall(400, 630)),
    ),
    "tip.no_feet": Pair(find_tipping, without_base, lambda: example(DEMO)),
    "racking.leg": Pair(
        find_racking,
        lambda: loaded(on_legs(leg=30, height=600), top=6000),
        lambda: loaded(on_legs(leg=45, height=600), top=6000),
        lambda said: loaded(
            on_legs(leg=30 * number("legs # times as thick", said) + 0.5, height=600), top=6000
        ),
    ),
    "racking.joint": Pair(
        find_racking,
        lambda: loaded(on_legs(apron=40, height=250), top=1200),
        lambda: loaded(on_legs(apron=110, height=250), top=1200),
    ),
    "racking.unknown": Pair(find_racking, lambda: on_legs(species="bog oak"), on_legs),
    "racking.tenon": Pair(
        find_racking,
        lambda: thin_tenon(5),
        lambda: thin_tenon(8),
        lambda said: thin_tenon(5 * number("; # times as large", said) + 0.1),
    ),
    "load.anchor": Pair(
        find_anchoring,
        lambda: anchored(spec(CHEST), 2),
        lambda: anchored(spec(CHEST), 3),
        lambda said: anchored(spec(CHEST), int(number("write count: #", said))),
    ),
    "load.runner": Pair(
        find_fittings,
        lambda: changed(DEMO, ("capacity: 30", "capacity: 15")),
        lambda: example(DEMO),
        lambda said: changed(
            DEMO, ("capacity: 30", f"capacity: {number('runners for # kg', said):g}")
        ),
    ),
    "load.runner_unknown": Pair(
        find_fittings,
        lambda: changed(DEMO, (", capacity: 30", "")),
        lambda: example(DEMO),
    ),
    "load.wide_drawer": Pair(
        find_fittings,
        lambda: changed(CHEST, ("length: 700", "length: 500")),
        lambda: changed(CHEST, ("length: 700", "length: 550")),
    ),
    "load.hinges": Pair(
        find_fittings,
        lambda: door(1200, hinges=2),
        lambda: door(700, hinges=2),
        lambda said: door(1200, hinges=int(number("write count: #", said))),
    ),
    "load.long_door": Pair(
        find_fittings,
        lambda: door(1200, panel=18),
        lambda: door(1000, panel=18),
        lambda said: door(1200, panel=number("make it # mm thick", said) + 0.1),
    ),
    "load.hinge_spacing": Pair(
        find_fittings, lambda: door(560, hinges=2), lambda: door(600, hinges=2)
    ),
    "load.hinge_screws": Pair(find_fittings, lambda: wide_door(300), lambda: wide_door(740)),
    "load.pins": Pair(
        find_fittings,
        lambda: shelf(800),
        lambda: shelf(700),
        lambda said: shelf(number("keep the load under # N", said) - 1),
    ),
    "holds.too_small": Pair(
        find_purpose, lambda: holding(height=270, width=30), lambda: holding(height=250, width=30)
    ),
    "holds.too_few": Pair(
        find_purpose,
        lambda: holding(height=200, width=30, count=51),
        lambda: holding(height=200, width=30, count=50),
    ),
    "holds.load": Pair(
        find_purpose,
        lambda: holding(height=200, width=30, count=44, mass=1.0),
        lambda: holding(height=200, width=30, count=40, mass=1.0),
    ),
    "way.doorway": Pair(
        find_way,
        lambda: going(door_width=449.0, door_height=1000.0),
        lambda: going(door_width=451.0, door_height=1000.0),
        lambda said: going(door_width=number("; # mm of width", said), door_height=1000.0),
    ),
    "way.stair": Pair(
        find_way,
        lambda: going(stair_width=445.0),
        lambda: going(stair_width=455.0),
        lambda said: going(stair_width=number("; # mm of width", said)),
    ),
    "way.turn": Pair(
        find_way,
        lambda: going(stair_width=900.0, turn_width=850.0, stair_height=900.0),
        lambda: going(stair_width=900.0, turn_width=1100.0, stair_height=900.0),
    ),
    "way.lift": Pair(
        find_way,
        lambda: going(lift_width=1600.0, lift_depth=440.0, lift_height=900.0),
        lambda: going(lift_width=1690.0, lift_depth=440.0, lift_height=900.0),
        lambda said: going(
            lift_width=number("; # mm of width", said), lift_depth=440.0, lift_height=900.0
        ),
    ),
}


@pytest.mark.parametrize("code", PAIRS)
def test_what_is_over_the_limit_is_found_and_what_is_just_inside_is_not(code):
    pair = PAIRS[code]
    raised = found(pair.over(), pair.check)
    assert code in raised
    assert code not in found(pair.under(), pair.check)
    if pair.mend is not None:
        after = found(pair.mend(raised[code].message), pair.check).get(code)
        better = Severity.NOTE if raised[code].severity is not Severity.NOTE else None
        assert after is None or after.severity is better


def test_every_code_of_a_check_has_its_pair_or_tells_of_a_sound_piece():
    """Codes are written out in full in the source of the checks."""
    family = r"(?:carry|caution|cost|finish|fit|holds|load|motion|movement|racking|sag|tip|way)"
    text = "\n".join(
        file.read_text(encoding="utf-8") for file in sorted((ROOT / "checks").glob("*.py"))
    )
    written = set(re.findall(rf'"({family}\.[a-z_]+)"', text))
    written |= {f"way.{word}" for word in ("doorway", "stair", "turn", "lift")}
    assert written == set(PAIRS) | TOLD
