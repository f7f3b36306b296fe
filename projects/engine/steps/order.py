"""Find what is impossible about the order of a plan's steps."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from projects.engine.plan.records import Plan
from projects.engine.plan.steps import STAGES, STOCK, Step
from projects.engine.steps.cutting import must_cut
from projects.engine.steps.faults import Fault, FaultKind
from projects.engine.steps.turns import CUTTING, Turns, sides, turns_of
from projects.engine.steps.words import in_a_row, in_text, part_names

_RANK = {stage: n for n, stage in enumerate(STAGES)}


def order_faults(plan: Plan, steps: Sequence[Step]) -> tuple[Fault, ...]:
    """Return what can't be done in the order of `steps`; nothing where there are none.

    The steps must name only what the plan has, as `read_step` sees to.
    """
    if not steps:
        return ()
    turns = turns_of(plan, tuple(steps))
    return tuple(fault for check in _CHECKS for fault in check(turns))


def _stages(turns: Turns) -> Iterator[Fault]:
    latest = turns.steps[0]
    for step in turns.steps:
        if _RANK[step.stage] >= _RANK[latest.stage]:
            latest = step
        elif (step.stage, latest.stage) != ("dry_fit", "fitted"):
            yield _fault(
                "stage_order",
                step,
                latest,
                stage=in_text(STAGES[step.stage]),
                other_stage=in_text(STAGES[latest.stage]),
            )


def _never_cut(turns: Turns) -> Iterator[Fault]:
    for part in turns.plan.parts:
        if part.key not in turns.part:
            yield Fault(
                kind="part_never_cut",
                steps=(),
                about=(part.key,),
                values={"names": f"the {in_text(part.name)}"},
            )
    for joint in turns.plan.joints:
        for key in must_cut(joint):
            if (joint.key, key) not in turns.joint:
                yield Fault(
                    kind="joint_never_cut",
                    steps=(),
                    about=(joint.key, key),
                    values={
                        "joint": f'"{turns.plan.joint_name(joint)}"',
                        "part": in_text(turns.plan.part_by_key[key].name),
                    },
                )


def _joints_early(turns: Turns) -> Iterator[Fault]:
    for n, step in enumerate(turns.steps):
        if step.stage in CUTTING:
            worked = [
                part
                for key in step.joints
                for part in sides(step, turns.plan.joint_by_key[key])
            ]
            yield from _cut_later(turns, "joint_early", n, worked, ())


def _dry_fits_early(turns: Turns) -> Iterator[Fault]:
    for n, step in enumerate(turns.steps):
        if step.stage != "dry_fit":
            continue
        parts = step.parts or _cut_before_measuring(turns, n)
        joints = step.joints or _between(turns.plan, parts)
        distances = (d for d in turns.plan.distances if turns.distance.get(d.key) == n)
        ends = [end.part for d in distances for end in (d.start, d.end)]
        yield from _cut_later(turns, "dry_fit_early", n, [*parts, *ends], joints)


def _assemblies_early(turns: Turns) -> Iterator[Fault]:
    for n, step in enumerate(turns.steps):
        if step.stage == "assembly":
            parts = step.parts or [part.key for part in turns.plan.parts]
            joints = step.joints or _between(turns.plan, parts)
            yield from _cut_later(turns, "assembly_early", n, parts, joints)


def _measured(turns: Turns) -> Iterator[Fault]:
    plan = turns.plan
    for part, waits in turns.rounds.waits.items():
        for key in waits:
            name = f'"{plan.distance_by_key[key].name}"'
            said = {"names": f"the {part_names(plan, [part])}", "distance": name}
            if key not in turns.distance:
                yield Fault(
                    kind="never_measured", steps=(), about=(part, key), values=said
                )
            elif turns.part.get(part, turns.distance[key]) < turns.distance[key]:
                step = turns.steps[turns.part[part]]
                other = turns.steps[turns.distance[key]]
                yield _fault("fitted_early", step, other, about=(part, key), **said)
    for n, step in enumerate(turns.steps):
        for key in step.measured_first:
            if turns.distance.get(key, n) > n:
                yield _fault(
                    "measured_late",
                    step,
                    turns.steps[turns.distance[key]],
                    about=(key,),
                    names=_measured_name(plan, key),
                )


_CHECKS: tuple[Callable[[Turns], Iterable[Fault]], ...] = (
    _stages,
    _never_cut,
    _joints_early,
    _dry_fits_early,
    _measured,
    _assemblies_early,
)


def _cut_later(
    turns: Turns,
    kind: FaultKind,
    at: int,
    parts: Iterable[str],
    joints: Iterable[str],
) -> Iterator[Fault]:
    """Yield a fault for each step behind `at` that cuts what the step there needs."""
    late: dict[int, dict[str, str]] = {}
    for key in parts:
        if turns.part.get(key, at) > at:
            name = f"the {part_names(turns.plan, [key])}"
            late.setdefault(turns.part[key], {})[key] = name
    for key in joints:
        joint = turns.plan.joint_by_key[key]
        for part in must_cut(joint):
            if turns.joint.get((key, part), at) > at:
                name = f'"{turns.plan.joint_name(joint)}"'
                late.setdefault(turns.joint[key, part], {})[key] = name
    for other, named in sorted(late.items()):
        yield _fault(
            kind,
            turns.steps[at],
            turns.steps[other],
            about=tuple(named),
            names=in_a_row(list(named.values())),
        )


def _cut_before_measuring(turns: Turns, at: int) -> list[str]:
    """Return the parts that wait for nothing measured at the step `at` or behind it."""
    return [
        part
        for part, waits in turns.rounds.waits.items()
        if all(turns.distance.get(key, at) < at for key in waits)
    ]


def _between(plan: Plan, parts: Iterable[str]) -> list[str]:
    """Return the joints both of whose parts are among `parts`."""
    there = set(parts)
    return [j.key for j in plan.joints if {j.host.part, j.guest.part} <= there]


def _measured_name(plan: Plan, key: str) -> str:
    if key.startswith(STOCK):
        name = in_text(plan.stock_by_key[key.removeprefix(STOCK)].name)
        return f"the thickness of the {name}"
    return f'"{plan.distance_by_key[key].name}"'


def _fault(
    kind: FaultKind, step: Step, other: Step, about: tuple[str, ...] = (), **said: str
) -> Fault:
    return Fault(
        kind=kind,
        steps=(step.key, other.key),
        about=about,
        values={"step": step.title, "other": other.title, **said},
    )
