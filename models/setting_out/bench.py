"""Where a piece comes together while it is set out: drafts, joints, openings, findings.

The only thing in the house that grows while it is used; it is made for one setting out, handed on
by name, and turned into a frozen ``Assembly`` at the end.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from ground.findings import Finding
from ground.vectors import Vec
from models.parts.assembly import (
    Assembly,
    HardwareLine,
    Joint,
    Motion,
    Mover,
    Opening,
    Sum,
)
from models.parts.features import Feature
from models.parts.joints.kit import Halves, Loose
from models.parts.part import PartKind
from models.setting_out.draft import Draft
from models.setting_out.gathering import gathered


@dataclass(slots=True)
class Bench:
    """Everything set out so far. Keys stand for copies until ``assembly`` gives them their ids."""

    drafts: dict[str, Draft] = field(default_factory=dict)
    joints: list[Joint] = field(default_factory=list)
    openings: list[Opening] = field(default_factory=list)
    movers: list[Mover] = field(default_factory=list)
    hardware: list[HardwareLine] = field(default_factory=list)
    sums: list[Sum] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)

    def put(self, draft: Draft) -> Draft:
        """Lay a new part on the bench.

        Raises:
            ValueError: its key is taken: a fault of ours.
        """
        if draft.key in self.drafts:
            reason = f"two parts are called {draft.key!r}"
            raise ValueError(reason)
        self.drafts[draft.key] = draft
        return draft

    def cut(self, key: str, features: Iterable[Feature]) -> None:
        """Cut ``features`` (piece axes) from the part ``key``."""
        draft = self.drafts[key]
        back = draft.frame.inverse()
        draft.features.extend(feature.moved(back) for feature in features)

    def join(self, joint: str, first: str, second: str, halves: Halves) -> None:
        """Cut both halves, lay out the loose pieces and record the joint called ``joint``."""
        self.cut(first, halves.first)
        self.cut(second, halves.second)
        loose = tuple(
            self.loose(f"{joint}/{place}", piece, beside=first).key
            for place, piece in enumerate(halves.loose, 1)
        )
        self.hardware.extend(halves.hardware)
        self.joints.append(
            Joint(
                id=joint,
                kind=halves.kind,
                parts=(first, second),
                loose=loose,
                closes=halves.closes,
                each=halves.each,
            )
        )

    def loose(self, key: str, piece: Loose, *, beside: str) -> Draft:
        """Lay out a loose piece in the group (and on the mover) of the part ``beside``."""
        host = self.drafts[beside]
        return self.put(
            Draft(
                key=key,
                letter="H" if piece.kind is PartKind.HARDWARE else "L",
                name=piece.name,
                group=host.group,
                kind=piece.kind,
                material=piece.material,
                blank=piece.blank,
                frame=piece.frame,
                features=list(piece.features),
                made=piece.made,
                mover=host.mover,
            )
        )

    def moves(self, mover: str, kind: Motion, axis: Vec, origin: Vec, limit: float) -> None:
        """Record how everything on ``mover`` moves (drafts name it as their ``mover``)."""
        self.movers.append(
            Mover(id=mover, kind=kind, axis=axis, origin=origin, limit=limit, copies=())
        )

    def find(self, finding: Finding) -> None:
        """Keep a finding; its ``copies`` are keys of drafts."""
        self.findings.append(finding)

    def assembly(self, name: str) -> Assembly:
        """Label the parts, put those alike together, and freeze the piece."""
        parts, copies, ids = gathered(tuple(self.drafts.values()))

        def renamed(keys: tuple[str, ...]) -> tuple[str, ...]:
            return tuple(ids[key] for key in keys)

        joints = tuple(
            replace(joint, parts=renamed(joint.parts), loose=renamed(joint.loose))
            for joint in self.joints
        )
        movers = tuple(
            replace(
                mover,
                copies=tuple(copy.id for copy in copies if copy.mover == mover.id),
            )
            for mover in self.movers
        )
        return Assembly(
            name=name,
            parts=parts,
            copies=copies,
            movers=movers,
            joints=joints,
            openings=tuple(
                replace(opening, contents=renamed(opening.contents)) for opening in self.openings
            ),
            hardware=_totalled(self.hardware),
            sums=tuple(self.sums),
            findings=tuple(
                replace(finding, copies=renamed(finding.copies)) for finding in self.findings
            ),
        )


def _totalled(lines: Iterable[HardwareLine]) -> tuple[HardwareLine, ...]:
    """Lines for the same thing put together, places joined in the order they came."""
    found: dict[tuple[str, str, str], HardwareLine] = {}
    for line in lines:
        key = (line.name, line.size, line.note)
        if key not in found:
            found[key] = line
            continue
        before = found[key]
        places = dict.fromkeys(
            place for places in (before.for_what, line.for_what) for place in places.split("; ")
        )
        found[key] = replace(
            before,
            quantity=before.quantity + line.quantity,
            for_what="; ".join(place for place in places if place),
        )
    return tuple(found.values())
