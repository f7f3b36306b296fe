"""What all joints of a plan cut on one part."""

from __future__ import annotations

from collections.abc import Iterator

from projects.engine.drawing.worked import WorkNote
from projects.engine.fit.solve import Solution
from projects.engine.partwork.guests import holes, lap_on_guest, notches, tenon
from projects.engine.partwork.hosts import lap_in_host, slot
from projects.engine.partwork.places import Cut, parts_of
from projects.engine.plan.records import Joint, Part


def cuts_on(solution: Solution, part: Part) -> Iterator[Cut | WorkNote]:
    """Give what the joints cut on a part, in the plan's order."""
    for joint in solution.plan.joints:
        if joint.host.part == part.key:
            yield from _on_host(solution, joint)
        if joint.guest.part == part.key:
            yield from _on_guest(solution, joint)


def _on_host(solution: Solution, joint: Joint) -> Iterator[Cut | WorkNote]:
    if joint.kind == "half_lap":
        yield lap_in_host(solution, joint)
    elif solution.cuts[joint.key].width_mm is not None:
        yield slot(solution, joint)
    elif solution.cuts[joint.key].on_host:
        guest, _ = parts_of(solution, joint)
        yield holes(solution, joint, joint.host, guest)


def _on_guest(solution: Solution, joint: Joint) -> Iterator[Cut | WorkNote]:
    cuts = solution.cuts[joint.key]
    if joint.kind == "half_lap":
        yield lap_on_guest(solution, joint)
    elif cuts.width_mm is None and cuts.on_guest:
        _, host = parts_of(solution, joint)
        yield holes(solution, joint, joint.guest, host)
    elif len(cuts.insets) > 1:
        yield tenon(solution, joint)
    yield from notches(solution, joint)
