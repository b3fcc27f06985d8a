"""The order of a part's planar cuts, with how each is registered: the best of all orders.

What a workpiece is depends only on which cuts have been made, not on their order; so the best order
is found over sets of cuts, exactly, with the last set-up kept beside each set (what is set alike
twice in a row is one set-up). Better means, first to last: fewer cuts by hand, fewer wedges, fewer
set-ups, registration on squared faces, slanted ends while the blank is square, square faces kept
longest, the safer and simpler way, long cuts before short ones.
"""

from dataclasses import dataclass
from operator import add, itemgetter

from ground.vectors import along, norm, sub
from models.parts.blank import FACES
from models.parts.features import TrimKind
from planning.machines import Tool
from planning.saw.job import Job
from planning.saw.settings import Keeps, Lean
from planning.saw.ways import LAST, Way, each_way, square_face, ways
from planning.saw.wedges import wedged_ways
from planning.saw.workpiece import Workpiece

Cost = tuple[float, ...]

FREE: Cost = (0.0,) * 8

ASTRAY: Cost = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 2.0, 0.0)
"""What it costs to measure where nothing can be marked: more awkward than any lie."""

NEAR_ENOUGH = 0.01
"""A mark that is no farther off the wood is on its edge (mm)."""

RANK = {
    Tool.TABLE_SAW: 0.0,
    Tool.GAUGE: 0.0,
    Tool.MITRE_SAW: 0.0,
    Tool.TRACK_SAW: 1.0,
    Tool.SLED: 1.0,
    Tool.BAND_SAW: 3.0,
}
"""The simpler way first; what comes off the band saw still has to be planed."""

PLACES = {"bottom": 0.0, "top": 0.1, "front": 0.2, "back": 0.3}
"""Where nothing else decides, a part lies on the face that its axes say goes down first."""

LEAST_DISTANCE = 1.0
"""Nothing is measured off that is shorter (mm), where it can be measured from elsewhere."""

FEW = 8
"""Ways of one cut that are followed up."""

BEAM = 400
"""Sets of cuts kept a step; no part of a cabinet comes near it."""


Offer = tuple[Way, Cost, object]
"""A way, what it costs wherever it stands, and what has to be set for it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ordered:
    """Cuts in an order that works, each with its way, and the workpiece before each."""

    ways: tuple[Way, ...]
    before: tuple[Workpiece, ...]
    cost: Cost


@dataclass(slots=True, kw_only=True)
class Search:
    """What is known of one job while its orders are tried."""

    job: Job
    pieces: dict[frozenset[str], Workpiece]
    offers: dict[tuple[frozenset[str], str], tuple[Offer, ...]]

    @classmethod
    def of(cls, job: Job) -> "Search":
        """Nothing cut yet."""
        return cls(job=job, pieces={frozenset(): job.blank}, offers={})

    def piece(self, done: frozenset[str]) -> Workpiece:
        """The workpiece once the cuts ``done`` are made."""
        if done not in self.pieces:
            last = max(done)
            self.pieces[done] = self.piece(done - {last}).cut(last, self.job.planes[last])
        return self.pieces[done]

    def offered(self, done: frozenset[str], cut: str) -> tuple[Offer, ...]:
        """The ways within every limit to make ``cut`` now.

        Wedged only where no other way is, by hand only where no machine is: either costs more than
        anything that a later cut could save, so nothing better is missed.
        """
        key = (done, cut)
        if key not in self.offers:
            found = [(way, self.cost(way, self.piece(done))) for way in self.all_ways(done, cut)]
            self.offers[key] = cheapest(found)
        return self.offers[key]

    def cost(self, way: Way, piece: Workpiece) -> Cost:
        """What a way costs wherever it stands in the order."""
        cost = local(way, self.job.part.show)
        return plus(cost, ASTRAY) if off_the_wood(self.job, piece, way) else cost

    def all_ways(self, done: frozenset[str], cut: str) -> list[Way]:
        """Every way that keeps within the limits."""
        piece = self.piece(done)
        found = list(each_way(self.job, piece, cut, within=True))
        if not found and not self.job.thin:
            wedged = wedged_ways(self.job, piece, cut, done)
            found = [way for way in wedged if not way.limits]
        return found or list(ways(self.job, piece, cut, by_hand=True))


def cheapest(found: list[tuple[Way, Cost]]) -> tuple[Offer, ...]:
    """The best way for each different set-up with its cost, the best few."""
    best: dict[object, Offer] = {}
    for way, cost in sorted(found, key=itemgetter(1)):
        key = (way.turns, way.wedge)
        best.setdefault(key, (way, cost, key))
    return tuple(best.values())[:FEW]


def off_the_wood(job: Job, piece: Workpiece, way: Way) -> bool:
    """Tell whether a taper would be measured at an end where its line has left the wood."""
    if not way.setting.from_edge or way.setting.rips:
        return False
    lie = job.lie(way.table, way.reference, way.stop)
    mark = along(lie.corner, lie.across, way.setting.distance)
    # past a slanted end it can still be marked on the edge that runs out there
    beside = (face for face in piece.faces if face.name != way.stop)
    return any(face.plane.height(mark) > NEAR_ENOUGH for face in beside)


def local(way: Way, show: str | None = None) -> Cost:
    """What a way costs wherever it stands in the order; all but the set-ups, which follow on."""
    made = way.setting
    awkward = RANK.get(way.tool, 5.0)
    awkward += 1.0 if made.tilt_to is Lean.TOWARD and made.rips else 0.0
    awkward += 1.0 if made.keeps is Keeps.FAR else 0.0
    awkward += 1.0 if way.table == show else 0.0
    awkward += 1.0 if made.distance < LEAST_DISTANCE else 0.0
    awkward += PLACES.get(way.table, 0.4)
    slanted = sum(not square_face(name) for name in (way.table, way.reference))
    return (
        1.0 if way.tool in LAST else 0.0,
        0.0 if way.wedge is None else 1.0,
        0.0,
        slanted,
        0.0,
        0.0,
        awkward,
        0.0,
    )


def plus(one: Cost, other: Cost) -> Cost:
    """Two costs together."""
    return tuple(map(add, one, other))


def step_cost(way: Way, lost: int, late: tuple[float, float], *, again: bool) -> Cost:
    """What a cut adds where it stands.

    ``lost`` squared faces are gone by then; ``late`` is its place where it is a slanted end, that
    wants the blank still square, and its length times its place (mm); ``again``: set as before.
    """
    fresh = (0.0 if again else 1.0) + (1.0 if way.tool is Tool.BAND_SAW else 0.0)  # then planed
    return (0.0, 0.0, fresh, 0.0, late[0], float(lost), 0.0, late[1])


def run(job: Job, cut: str) -> float:
    """How long a cut is, by its face on the finished piece (mm)."""
    face = job.finished.by_name.get(cut)
    if face is None:
        return 0.0
    return max(
        norm(sub(one, other))
        for one, other in zip(face.corners, (*face.corners[1:], face.corners[0]), strict=True)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Trail:
    """One order so far."""

    cost: Cost
    ways: tuple[Way, ...] = ()


def best_order(job: Job) -> Ordered:
    """The best order of all the planar cuts of a part."""
    search = Search.of(job)
    runs = {cut: run(job, cut) for cut in job.cuts}
    ends = {trim.id for trim in job.trims if trim.kind is TrimKind.END}
    trails: dict[tuple[frozenset[str], object], Trail] = {(frozenset(), None): Trail(cost=FREE)}
    for place in range(len(job.cuts)):
        longer: dict[tuple[frozenset[str], object], Trail] = {}
        for (done, set_as), trail in trails.items():
            piece = search.piece(done)
            lost = len(FACES) - sum(face.name in FACES for face in piece.faces)
            for cut in job.cuts:
                if cut in done:
                    continue
                if piece.misses(job.planes[cut]):
                    longer[(done | {cut}, None)] = trail  # another cut has made the same face
                late = (place if cut in ends else 0.0, runs[cut] * place)
                for way, cost, key in search.offered(done, cut):
                    step = step_cost(way, lost, late, again=key == set_as)
                    total = plus(plus(trail.cost, cost), step)
                    reached = (done | {cut}, key)
                    if reached not in longer or total < longer[reached].cost:
                        longer[reached] = Trail(cost=total, ways=(*trail.ways, way))
        trails = kept(longer)
    best = min(trails.values(), key=lambda trail: trail.cost)
    return ordered(search, best)


def kept(
    trails: dict[tuple[frozenset[str], object], Trail],
) -> dict[tuple[frozenset[str], object], Trail]:
    """The cheapest trails, where there are more than anybody could follow."""
    if len(trails) <= BEAM:
        return trails
    return dict(sorted(trails.items(), key=lambda item: item[1].cost)[:BEAM])


def ordered(search: Search, trail: Trail) -> Ordered:
    """A trail with the workpiece before each cut."""
    done: frozenset[str] = frozenset()
    before = []
    for way in trail.ways:
        before.append(search.piece(done))
        done |= {way.cut}
    return Ordered(ways=trail.ways, before=tuple(before), cost=trail.cost)
