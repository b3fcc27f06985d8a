"""Round-overs, coves and chamfers: the last thing that is done to a part."""

from collections.abc import Iterator

from ground.vectors import Plane, add, along, dot, neg, scale, sub, unit
from models.parts.cuts import Profile
from models.parts.features import EasedEdge
from planning.machines import Tool
from planning.saw.care import for_tool
from planning.saw.job import Job
from planning.saw.records import Expect, SetUp
from planning.saw.settings import setting


def eased(job: Job) -> Iterator[SetUp]:
    """The eased edges: those alike together where they leave no plane, each chamfer by itself."""
    tool = edge_tool(job)
    alike: dict[tuple[Profile, float], list[EasedEdge]] = {}
    for feature in job.part.features:
        if not isinstance(feature, EasedEdge):
            continue
        if feature.profile is Profile.CHAMFER:
            made = chamfer(job, feature)
            if made is not None:
                yield made
        else:
            alike.setdefault((feature.profile, feature.size), []).append(feature)
    for (profile, size), features in alike.items():
        edges = ", ".join(
            f"{job.spoken(one)}/{job.spoken(other)}"
            for one, other in (feature.between for feature in features)
        )
        yield SetUp(
            part=job.part.label,
            order=0,
            machine=tool,
            does=f"{profile.value}, radius {size:.1f} mm",
            expect=(Expect(what="radius", at=edges, value=size),),
            note=f"{len(features)} edges: {edges}.",
            first_cut="on scrap: set the cutter's height until no step is left on either face",
            cautions=for_tool(tool, job.part.blank.length),
        )


def chamfer(job: Job, feature: EasedEdge) -> SetUp | None:
    """A chamfer, measured from the edge on one of its faces; None where the edge is not there."""
    one, other = feature.between
    ends = job.finished.edges.get(frozenset((one, other)))
    if ends is None:
        return None
    a, b = job.planes[one].normal, job.planes[other].normal
    into = neg(unit(sub(b, scale(a, dot(a, b)))))
    plane = Plane.through(along(ends[0], into, feature.size), add(a, b))
    tool = edge_tool(job)
    made = setting(plane, job.lie(one, other, None), 0.0)
    return SetUp(
        part=job.part.label,
        order=0,
        machine=tool,
        does="chamfer",
        table_face=job.spoken(one),
        reference_edge=job.spoken(other),
        mitre=made.mitre,
        mitre_to=made.mitre_to,
        tilt=made.tilt,
        tilt_to=made.tilt_to,
        measured=made.measured,
        distance=made.distance,
        keeps=made.keeps,
        kerf=0.0,
        makes_face=f"{feature.id}.wall",
        expect=(
            Expect(what="set back from the edge", at=job.spoken(one), value=feature.size),
            Expect(what="set back from the edge", at=job.spoken(other), value=feature.size),
        ),
        first_cut="on scrap: both set-backs the same",
        cautions=for_tool(tool, job.part.blank.length),
    )


def edge_tool(job: Job) -> Tool:
    """What eases edges: the router, over its table what is small enough for that; else a plane."""
    router = job.machines.router
    if not router.owned:
        return Tool.HAND_PLANE
    longest = max(job.part.blank.length, job.part.blank.width)
    return Tool.ROUTER_TABLE if longest <= router.table else Tool.ROUTER
