"""Whole spec files that the reader accepts, over every kind of base, corner, content and unit.

``spec_texts()`` draws YAML text. Sizes hang together as a maker's would: runners fit the depth,
fronts the height, legs stand under the case. Not every one can be made; that is for setting out
and the checks to say.
"""

import json
from dataclasses import dataclass
from typing import Any

from hypothesis import strategies as st

from ground.quantities import Units, length_text

Tree = dict[str, Any]

RUNNER_LENGTHS = (250, 300, 350, 400, 450, 500, 550, 600)
EDGING = 6
BACK_SET_IN = 12
BACK_THICKNESS = 6
FRONT_THICKNESS = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What the sections of one spec must agree on (mm)."""

    units: Units
    length: float
    height: float
    depth: float
    panel: float

    def text(self, mm: float) -> str:
        """A length as the spec's own units write it."""
        return length_text(mm, self.units)

    @property
    def runner(self) -> int:
        """The longest runner that goes in behind an inset front."""
        room = self.depth - BACK_SET_IN - BACK_THICKNESS - FRONT_THICKNESS - 3 - 5
        return max(length for length in RUNNER_LENGTHS if length <= room)

    @property
    def clear_height(self) -> float:
        """Height between bottom and top."""
        return self.height - 2 * self.panel


def _steps(low: int, high: int, step: int = 5) -> st.SearchStrategy[int]:
    return st.integers(low // step, high // step).map(lambda n: n * step)


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """Outside sizes of low cases, and a sheet's thickness."""
    return Plan(
        units=draw(st.sampled_from(Units)),
        length=draw(_steps(500, 1800)),
        height=draw(_steps(350, 800)),
        depth=draw(_steps(330, 600)),
        panel=draw(st.sampled_from([16.0, 17.8, 18.0, 18.6, 19.0])),
    )


def _materials(plan: Plan) -> Tree:
    sheet: Tree = {"kind": "sheet", "grain": "length"}
    large, small = [plan.text(2500), plan.text(1250)], [plan.text(1525), plan.text(1525)]
    return {
        "oak": {"kind": "lumber", "species": "white oak", "moisture": "8", "price": "2900"},
        "case-panel": sheet
        | {"core": "veneer plywood", "face": "white oak", "thickness": plan.text(19)}
        | {"measured": f"{plan.panel:g} mm", "size": large, "price": "118"},
        "back-panel": sheet
        | {"core": "veneer plywood", "face": "white oak", "thickness": "6 mm", "size": large},
        "drawer-panel": sheet | {"core": "birch plywood", "thickness": "12 mm", "size": small},
        "front-panel": {"kind": "sheet", "core": "mdf", "face": "linoleum", "density": "850"}
        | {"thickness": "20 mm", "size": large, "grain": "none"},
    }


def _hardware(plan: Plan, runner: str) -> Tree:
    runners: dict[str, Tree] = {
        "undermount runner": {"length": f"{plan.runner} mm", "capacity": "30"},
        "side-mount slide": {"length": f"{plan.runner} mm", "capacity": "45"},
        "wooden runner": {"material": "oak"},
    }
    return {
        "runner": {"kind": runner, **runners[runner]},
        "hinge": {"kind": "cup hinge", "closing": "free"},
        "butt": {"kind": "butt hinge", "length": "50 mm", "width": "16 mm"},
        "latch": {"kind": "push latch"},
        "catch": {"kind": "magnetic catch"},
        "pins": {"kind": "shelf pins"},
    }


_APRON_JOINTS = ("loose tenon", "mortise and tenon", "dowel", "pocket screw")


_STRETCHER_JOINTS: list[Any] = [
    {"kind": "stopped dado", "open": "top"},
    {"kind": "stopped dado", "open": "bottom"},
    "dado",
    "loose tenon",
    {"kind": "mortise and tenon", "haunch": "true"},
    "dowel",
    {"kind": "screw", "plugs": "oak"},
    "pocket screw",
]


@st.composite
def _legs_base(draw: st.DrawFn, plan: Plan, kind: str) -> Tree:
    t = plan.text
    top, height = draw(st.sampled_from([38, 44, 50, 58])), draw(_steps(160, 260))
    foot = draw(st.integers(22, top - 8))
    apron = draw(_steps(50, 80))
    legs: Tree = {"material": "oak", "top": [t(top), t(top)], "foot": [t(foot), t(foot)]}
    if kind == "splayed legs":
        legs["splay"] = {
            "front": str(draw(st.integers(0, 12))),
            "side": str(draw(st.integers(0, 9))),
        }
        if draw(st.booleans()):
            legs["facet"] = {"arris": "outer", "width": t(draw(st.integers(6, 12)))}
    else:
        faces = draw(st.sampled_from(["inside", "outside", "all"]))
        legs["taper"] = {"faces": faces, "starts": t(apron + draw(st.integers(5, 25)))}
    if draw(st.booleans()):
        legs["ease"] = t(draw(st.integers(1, 3)))
    base: Tree = {
        "kind": kind,
        "height": t(height),
        "set_in": {"front": t(24), "back": t(24), "sides": t(draw(_steps(25, 100)))},
        "legs": legs,
        "aprons": {"material": "oak", "height": t(apron), "thickness": t(22), "set_back": t(5)}
        | {"joint": {"kind": draw(st.sampled_from(_APRON_JOINTS))}},
        "fixing": {"kind": draw(st.sampled_from(["figure-eight fastener", "slotted clip"]))}
        | {"count": str(draw(st.sampled_from([4, 6, 8])))},
    }
    if draw(st.booleans()):
        base["corner_blocks"] = {"material": "oak", "thickness": t(24), "legs": t(70)}
    if draw(st.booleans()):
        runs = draw(st.sampled_from(["front to back", "side to side"]))
        base["stretchers"] = {"count": "1", "runs": runs, "at": "even"}
        base["stretchers"] |= {
            "material": "oak",
            "height": t(45),
            "thickness": t(22),
            "joint": draw(st.sampled_from(_STRETCHER_JOINTS)),
        }
    if draw(st.booleans()):
        base["feet"] = {"kind": draw(st.sampled_from(["glide", "leveller"])), "thickness": t(5)}
    return base


@st.composite
def _plinth(draw: st.DrawFn, plan: Plan) -> Tree:
    t = plan.text
    return {
        "kind": "plinth",
        "height": t(draw(_steps(60, 120))),
        "set_in": {"front": t(draw(_steps(20, 60))), "back": t(20), "sides": t(20)},
        "material": "case-panel",
        "corners": draw(st.sampled_from(["mitre", "butt", "rabbet"])),
        "fixing": {"kind": draw(st.sampled_from(["screw block", "screw"])), "count": "8"},
    }


def _bases(plan: Plan) -> st.SearchStrategy[Tree]:
    return st.one_of(
        _legs_base(plan, "splayed legs"), _legs_base(plan, "straight legs"), _plinth(plan)
    )


_CORNER_JOINTS: dict[str, list[Any]] = {
    "mitre": ["spline", {"kind": "loose tenon"}, {"kind": "dowel", "with": "screw"}, "screw"],
    "butt": [
        "dowel",
        {"kind": "loose tenon", "with": "pocket screw"},
        {"kind": "screw", "from": "outside", "plugs": "oak"},
        "pocket screw",
        "tongue and groove",
    ],
    "rabbet": [{"kind": "screw", "from": "outside"}, "dowel", "loose tenon"],
    "dado": [{"kind": "screw", "from": "outside"}, "dowel", "pocket screw"],
}


def _edging(plan: Plan) -> st.SearchStrategy[Tree]:
    corners = st.sampled_from(["mitre", "butt"])
    solid = corners.map(
        lambda word: (
            {"kind": "solid", "material": "oak", "thickness": plan.text(EDGING)} | {"corners": word}
        )
    )
    return st.one_of(solid, st.just({"kind": "veneer tape", "thickness": "0.6 mm"}))


@st.composite
def _cases(draw: st.DrawFn, plan: Plan) -> Tree:
    t = plan.text
    corners: Tree = {}
    joints: Tree = {}
    for where in ("top", "bottom"):
        kind = draw(st.sampled_from(sorted(_CORNER_JOINTS)))
        long: Tree = {"kind": kind}
        if kind == "butt" and draw(st.booleans()):
            long["runs"] = draw(st.sampled_from(["over", "between"]))
        if kind in ("rabbet", "dado"):
            long |= {"in": "sides", "depth": t(draw(st.integers(5, 9)))}
        corners[where] = kind if len(long) == 1 and draw(st.booleans()) else long
        joints[where] = draw(st.sampled_from(_CORNER_JOINTS[kind]))
    grooved = {"material": "back-panel", "groove_depth": t(6), "set_in": t(BACK_SET_IN)}
    backs: list[Tree] = [
        grooved | {"enters": "captive"},
        grooved | {"enters": "from below"},
        {"kind": "rabbeted", "material": "back-panel", "depth": t(8)},
    ]
    case: Tree = {
        "size": {"length": t(plan.length), "height": t(plan.height), "depth": t(plan.depth)},
        "material": "case-panel",
        "corners": corners,
        "joints": joints,
        "grain": draw(st.sampled_from(["continuous", "upright sides", "level sides"])),
        "back": draw(st.sampled_from(backs)),
    }
    if draw(st.booleans()):
        case["edging"] = {"front": draw(_edging(plan))}
    if draw(st.integers(0, 3)) == 0:
        rail: Tree = {"material": "oak", "height": t(40), "thickness": t(18)}
        rails: list[Any] = ["dowel", "loose tenon", {"kind": "mortise and tenon", "haunch": "true"}]
        case["rails"] = {"under_top": rail | {"joint": draw(st.sampled_from(rails))}}
    return case


_BOX_CORNERS: list[Any] = [
    "butt",
    "rabbet",
    "lock rabbet",
    "box joint",
    "pocket screw",
    {"kind": "rabbet", "pins": {"diameter": "6 mm", "count": "2", "species": "black walnut"}},
    {
        "kind": "rabbet",
        "bars": {"width": "6 mm", "depth": "12 mm", "count": "2", "species": "black walnut"},
    },
    {"kind": "half-blind dovetail", "slope": "1:7"},
    {"kind": "through dovetail", "slope": "1:8"},
]


@st.composite
def _drawers(draw: st.DrawFn, plan: Plan, most: int) -> Tree:
    t = plan.text
    number = draw(st.integers(1, most))
    shares = ["1 share", "1.5 shares", "2 shares"]
    lumber = draw(st.booleans())
    front: Tree = {"material": "front-panel", "gap": t(2)}
    if lumber:
        cut = draw(st.sampled_from(["flat", "rift", "quartered"]))
        front = {"material": "oak", "thickness": t(FRONT_THICKNESS), "cut": cut, "gap": t(2)}
    drawers: Tree = {
        "heights": [draw(st.sampled_from(shares)) for _ in range(number)],
        "front": front,
        "box": {"material": "drawer-panel", "corner": draw(st.sampled_from(_BOX_CORNERS))},
        "bottom": {"material": "back-panel", "layers": "1", "groove_depth": t(5), "up": "13 mm"},
        "runner": "runner",
    }
    if draw(st.booleans()):
        pulls: list[Any] = ["knob", {"kind": "bar", "holes": "96 mm"}]
        drawers["pull"] = draw(st.sampled_from(pulls))
    return {"drawers": drawers}


@st.composite
def _shelves(draw: st.DrawFn, plan: Plan) -> Tree:
    shelves: Tree = {"count": "1", "material": "case-panel"}
    shelves["support"] = draw(st.sampled_from(["shelf pins", "dado"]))
    if draw(st.booleans()):
        shelves["edging"] = draw(_edging(plan))
        if shelves["edging"]["kind"] == "solid" and draw(st.booleans()):
            way = draw(st.sampled_from(["up", "down"]))
            shelves["edging"] |= {"height": plan.text(32), "hangs": way}
    return {"shelves": shelves}


@st.composite
def _doors(draw: st.DrawFn, plan: Plan, width: float) -> Tree:
    t = plan.text
    wide = 500
    pair = width > wide
    doors: Tree = {"count": "2" if pair else "1", "gap": t(2)}
    if not pair:
        doors["hung"] = draw(st.sampled_from(["left", "right"]))
    doors |= draw(
        st.sampled_from(
            [
                {"hinge": "hinge", "latch": "latch"},
                {"hinge": "butt", "catch": "catch", "pull": "knob"},
                {"hinge": "hinge", "stop": "block", "pull": "knob"},
            ]
        )
    )
    frame = {"material": "oak", "thickness": t(20), "stiles": t(50), "rails": t(50)}
    makes: list[Tree] = [
        {"material": "front-panel"},
        {"kind": "slab", "material": "oak", "thickness": t(20), "cut": "quartered"},
        {
            "kind": "frame and panel",
            "frame": frame | {"groove_depth": t(8)},
            "panel": {"material": "back-panel"},
        },
    ]
    doors |= draw(st.sampled_from(makes))
    contents: Tree = {"doors": doors}
    if draw(st.booleans()):
        contents |= draw(_shelves(plan))
    return contents


@st.composite
def _leaves(draw: st.DrawFn, plan: Plan, width: float, height: float) -> Tree:
    drawer_height, door_height = 110, 180
    fits: list[st.SearchStrategy[Tree]] = [st.just({"open": "true"}), st.just({})]
    if height >= drawer_height:
        fits.append(_drawers(plan, min(4, int(height // drawer_height))))
    if height >= door_height:
        fits += [_doors(plan, width), _shelves(plan)]
    return draw(st.one_of(*fits))


@st.composite
def _openings(draw: st.DrawFn, plan: Plan, width: float, height: float, *, deep: int) -> Tree:
    narrowest, lowest = 260, 130
    ways = ["upright"] * (width > 2 * narrowest) + ["level"] * (height > 2 * lowest)
    if not deep or not ways or draw(st.booleans()):
        return draw(_leaves(plan, width, height))
    way = draw(st.sampled_from(ways))
    upright = way == "upright"
    most = int(width // narrowest) if upright else int(height // lowest)
    number = draw(st.integers(2, min(3, most)))
    each = ((width if upright else height) - (number - 1) * plan.panel) / number
    inner = (each, height) if upright else (width, each)
    pieces = [
        {"size": "1 share", **draw(_openings(plan, *inner, deep=deep - 1))} for _ in range(number)
    ]
    if draw(st.booleans()):
        pieces[0]["size"] = plan.text(round(each))
    joints: list[Any] = [
        "dowel",
        {"kind": "dado", "depth": plan.text(6)},
        {"kind": "stopped dado"},
        {"kind": "loose tenon", "with": "pocket screw"},
        "tongue and groove",
        "pocket screw",
        "screw",
    ]
    dividers: Tree = {"material": "case-panel", "joint": draw(st.sampled_from(joints))}
    if draw(st.booleans()):
        dividers["edging"] = draw(_edging(plan))
    return {"split": way, "dividers": dividers, "into": pieces}


@st.composite
def spec_trees(draw: st.DrawFn) -> Tree:
    """Whole specs as groups, lists and text."""
    plan = draw(plans())
    t = plan.text
    runners = st.sampled_from(["undermount runner", "side-mount slide", "wooden runner"])
    inside = draw(_openings(plan, plan.length - 2 * plan.panel, plan.clear_height, deep=2))
    return {
        "format": "1",
        "name": draw(st.sampled_from(["Low cabinet", "Étagère", "Chest no. 7", "木の棚"])),
        "units": plan.units.value,
        "drawings": {"paper": draw(st.sampled_from(["A3", "Letter"]))}
        | {"standard": draw(st.sampled_from(["ISO", "ASME"]))},
        "shop": {"kerf": "3.2 mm", "trim": "10 mm", "humidity": ["35", "60"], "temperature": "68 F"}
        | {"milling": {"length": t(30), "width": t(6), "thickness": t(5)}},
        "materials": _materials(plan),
        "hardware": _hardware(plan, draw(runners)),
        "base": draw(_bases(plan)),
        "case": draw(_cases(plan)),
        "inside": inside,
        "loads": {"top": "400", "shelf": "200", "drawer": "100"},
    }


def yaml_of(tree: Tree) -> str:
    """YAML text of a spec: a key a line, what is inside it in brackets and quotes."""
    lines = [f"{key}: {json.dumps(value, ensure_ascii=False)}" for key, value in tree.items()]
    return "\n".join(lines) + "\n"


def spec_texts() -> st.SearchStrategy[str]:
    """YAML text of whole specs that the reader accepts."""
    return spec_trees().map(yaml_of)
