"""The order of the work: against every order there is, and against what the trade knows."""

import itertools
import time

import pytest

from models.parts.features import Mortise, Trim, TrimKind
from planning.machines import Tool
from planning.saw.job import Job
from planning.saw.order import FREE, Search, best_order, plus, step_cost
from planning.saw.plan import saw_plan
from planning.saw.ways import each_way
from planning.saw.wedges import wedged_ways
from planning.saw.workpiece import Workpiece
from tests.helpers import examples


def job_of(example: str, label: str) -> Job:
    shop = examples.spec(example).shop
    part = examples.piece(example).part(label)
    return Job(part=part, machines=shop.machines, kerf=shop.kerf)


def wedged(job: Job, piece: Workpiece, cut: str, done: frozenset[str]) -> int:
    """One wedge where one does it; by hand counts as a hundred."""
    return 1 if any(not way.limits for way in wedged_ways(job, piece, cut, done)) else 100


def least_wedges(job: Job) -> int:
    """The fewest wedged or handmade cuts of all orders, each order tried."""
    known: dict[tuple[frozenset[str], str], int] = {}

    def price(done: frozenset[str], piece: Workpiece, cut: str) -> int:
        if (done, cut) not in known:
            plain = any(True for _ in each_way(job, piece, cut, within=True))
            known[done, cut] = 0 if plain else wedged(job, piece, cut, done)
        return known[done, cut]

    best = 10_000
    for order in itertools.permutations(job.cuts):
        done: frozenset[str] = frozenset()
        piece, total = job.blank, 0
        for cut in order:
            total += price(done, piece, cut)
            piece = piece.cut(cut, job.planes[cut])
            done |= {cut}
        best = min(best, total)
    return best


@pytest.mark.parametrize("label", ["B1", "B2"])
def test_the_demo_s_legs_take_no_more_wedges_than_the_best_of_all_orders(label):
    job = job_of(examples.DEMO, label)
    found = best_order(job)
    assert sum(way.wedge is not None for way in found.ways) == least_wedges(job) == 0


@pytest.mark.parametrize("label", ["B3", "B4"])
def test_no_order_and_no_way_costs_less_than_the_one_chosen(label):
    job = job_of(examples.DEMO, label)
    search = Search.of(job)
    runs = dict.fromkeys(job.cuts, 0.0)

    def cheapest(done: frozenset[str], last: object, place: int):
        """The least cost of what is left, but for the length of the cuts: every branch is tried."""
        if len(done) == len(job.cuts):
            return FREE
        piece = search.piece(done)
        lost = 6 - sum(face.name in job.part.blank.planes() for face in piece.faces)
        return min(
            plus(
                plus(cost, step_cost(way, lost, (0.0, runs[cut] * place), again=key == last)),
                cheapest(done | {cut}, key, place + 1),
            )
            for cut in job.cuts
            if cut not in done
            for way, cost, key in search.offered(done, cut)
        )

    assert cheapest(frozenset(), None, 0)[:-1] == pytest.approx(best_order(job).cost[:-1])


@pytest.fixture(scope="module")
def plans():
    return {name: examples.saw(name) for name in examples.EXAMPLES}


def trims(name: str, label: str, *kinds: TrimKind) -> set[str]:
    part = examples.piece(name).part(label)
    return {f.id for f in part.features if isinstance(f, Trim) and f.kind in kinds}


def order_of(plan, label: str, made: set[str]) -> list[int]:
    return [one.order for one in plan.of(label) if one.makes_face in made]


def test_straight_legs_are_mortised_while_they_are_square(plans):
    tapers = trims(examples.BEDSIDE, "B1", TrimKind.TAPER)
    steps = plans[examples.BEDSIDE].of("B1")
    mortises = [one.order for one in steps if one.does == "square mortise"]
    assert mortises
    assert max(mortises) < min(order_of(plans[examples.BEDSIDE], "B1", tapers))


def test_splayed_legs_are_mortised_after_their_tapers_with_the_wedge_drawn(plans):
    part = examples.piece(examples.DEMO).part("B1")
    steps = plans[examples.DEMO].of("B1")
    mortises = [one for one in steps if one.does == "mortise"]
    assert len(mortises) == sum(isinstance(f, Mortise) for f in part.features) == 2
    tapers = trims(examples.DEMO, "B1", TrimKind.TAPER)
    last = max(order_of(plans[examples.DEMO], "B1", tapers))
    assert all(one.order > last for one in mortises)
    wedge = next(one.wedge for one in mortises if one.table_face == "inner-front")
    # inner front face and outer front face are 8.26 degrees apart
    assert wedge is not None
    assert wedge.rise / wedge.length == pytest.approx(0.1451, abs=0.0003)


def test_both_compound_ends_of_a_splayed_leg_are_cut_while_the_blank_is_square(plans):
    ends = order_of(plans[examples.DEMO], "B1", trims(examples.DEMO, "B1", TrimKind.END))
    rest = trims(examples.DEMO, "B1", TrimKind.TAPER, TrimKind.SPLAY, TrimKind.FACET)
    assert len(ends) == 2
    assert max(ends) < min(order_of(plans[examples.DEMO], "B1", rest))


def test_a_panel_edged_before_glue_up_is_edged_before_its_bevel(plans):
    steps = plans[examples.BEDSIDE].of("C1")
    first = steps[0]
    assert "glue the edging on front" in first.note
    bevels = [one.order for one in steps if one.makes_face in {"mitre-1", "mitre-2"}]
    assert bevels
    assert first.order < min(bevels)


@pytest.mark.parametrize("name", examples.EXAMPLES)
def test_no_long_bevel_on_a_panel_goes_to_the_mitre_saw(name, plans):
    for one in plans[name].set_ups:
        size = examples.piece(name).part(one.part).blank
        if one.machine is Tool.MITRE_SAW:
            assert min(size.length, size.width) <= 300


@pytest.mark.parametrize("name", examples.EXAMPLES)
def test_every_cut_has_two_checks_a_first_cut_and_the_manual(name, plans):
    for one in plans[name].set_ups:
        if one.makes_face is None or one.cutter is not None or one.kerf is None:
            continue
        assert len(one.expect) >= 2, (one.part, one.makes_face)
        assert one.first_cut or one.does.startswith("trim"), one
        if "saw" in one.machine.value and "hand" not in one.machine.value and one.cautions:
            assert "manual" in one.cautions[-1]


@pytest.mark.parametrize("name", examples.EXAMPLES)
def test_every_taper_is_measured_where_a_mark_can_be_made(name, plans):
    """At the stop the line still lies on the wood: the foot of a straight leg, not its head."""
    for part in examples.piece(name).parts:
        piece = Job.of(part, examples.spec(name).shop).blank
        for one in plans[name].of(part.label) if part.made else ():
            if one.makes_face in trims(name, part.label, TrimKind.TAPER) and one.mitre != 90.0:
                face = (one.reference_edge or "").removeprefix("stock.")
                wide = piece.size(part.base_planes()[face].normal)
                assert (one.distance or 0.0) <= wide + 0.01, (part.label, one.makes_face)


def test_planning_the_demo_takes_less_than_two_seconds():
    shop = examples.spec(examples.DEMO).shop
    piece = examples.piece(examples.DEMO)
    start = time.process_time()
    saw_plan(piece, shop)
    assert time.process_time() - start < 2.0
