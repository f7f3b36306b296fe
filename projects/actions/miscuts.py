"""Proposing a way out of a miscut, and deciding on it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from django.db import transaction
from django.utils import timezone

from projects import adapters
from projects.engine.errors import EngineError
from projects.engine.fit.miscut import Miscut, fits
from projects.engine.units.length import UnitSystem
from projects.models import Decision, Reading, User, WayOut
from projects.ways_out import (
    Details,
    is_cut_of,
    mm_of,
    read_since,
    wanted_details,
    written_with,
)


def propose_way_out(
    reading: Reading,
    found: Miscut,
    *,
    by: User,
    kind: str,
    details: Details,
    unit: UnitSystem,
    note: str = "",
) -> WayOut:
    """Record the way out of a miscut that somebody proposes; older ones stay."""
    return WayOut.objects.create(
        build=reading.build,
        reading=reading,
        kind=kind,
        details={**wanted_details(found, unit), **details},
        note=note,
        at=timezone.now(),
        by=by,
    )


@transaction.atomic
def decide_way_out(way: WayOut, *, by: User, agreed: bool, note: str = "") -> Decision:
    """Record what an instructor decided on a proposal; older decisions stay.

    All sizes of the build follow from what is agreed. Where a distance gives, the build
    keeps which. Where the part is to be cut again, the sizes of it logged as cut are
    set aside, by rows written at the moment of the decision; where it serves elsewhere
    as it is, they are logged for the part that it serves as. A later decision against
    it takes that back. Raises `EngineError` where a newer proposal or reading follows
    the proposal, or where the build can't be solved so.
    """
    rows, earlier = list(way.build.readings.all()), list(way.decisions.all())
    _check_asked(way, rows, earlier)
    gives = agreed and way.kind == WayOut.Kind.LET_GIVE
    decision = Decision(way_out=way, agreed=agreed, note=note, at=timezone.now(), by=by)
    new: list[Reading] = []
    if not gives:
        new = list(_set_aside(way, rows) if agreed else _taken_back(rows, earlier))
    if gives or way.build.let_give_for in {
        way.reading.target,
        *(r.target for r in new),
    }:
        way.build.let_give = way.details["distance"] if gives else ""
        way.build.let_give_for = way.reading.target if gives else ""
        way.build.save(update_fields=["let_give", "let_give_for"])
    _write(decision, rows, new)
    decision.save()
    return decision


def _check_asked(
    way: WayOut, rows: Sequence[Reading], earlier: Sequence[Decision]
) -> None:
    followed = WayOut.objects.filter(
        build=way.build_id, reading__target=way.reading.target, pk__gt=way.pk
    )
    if followed.exists():
        raise EngineError("A newer proposal follows this one; decide on that.")
    if read_since(way, rows, earlier):
        raise EngineError("The part was measured again since; this is no longer asked.")


def _write(decision: Decision, rows: list[Reading], new: list[Reading]) -> None:
    """Write what follows from a decision, at its moment and by its hand."""
    for row in new:
        row.at, row.by = decision.at, decision.by
    if new:
        adapters.solve_build(decision.way_out.build, [*rows, *new])
    for row in new:
        row.save()


def _set_aside(way: WayOut, rows: Sequence[Reading]) -> Iterator[Reading]:
    """Give what sets the sizes of a part aside that were logged as cut.

    All of them: the part is cut anew. Where it serves as a part not cut yet and nothing
    comes off it, its sizes are that part's.
    """
    current, part = adapters.current_rows(rows), way.reading.target.rpartition(".")[0]
    serves = way.kind == WayOut.Kind.USE_AS and _serves(way, current)
    for row in current:
        if not is_cut_of(row, part):
            continue
        yield _aside(row)
        if serves:
            dimension = row.target.rpartition(".")[2]
            yield _again(row, f"cut:{way.details['part']}.{dimension}")


def _serves(way: WayOut, current: Sequence[Reading]) -> bool:
    """Tell whether the part is another as it is: not cut yet, and nothing comes off."""
    plan = adapters.plan_of(way.build.revision)
    trims = (mm_of(way.details, name) for name in ("trim_length", "trim_width"))
    return all(mm is not None and fits(plan, mm) for mm in trims) and not any(
        is_cut_of(row, f"cut:{way.details['part']}") for row in current
    )


def _taken_back(
    rows: Sequence[Reading], earlier: Sequence[Decision]
) -> Iterator[Reading]:
    """Give what undoes the rows of an earlier decision, where they count yet."""
    agreed = [decision for decision in earlier if decision.agreed]
    places: dict[tuple[str, int], list[Reading]] = {}
    for row in rows:
        places.setdefault((row.target, row.point), []).append(row)
    for found in places.values():
        if not any(written_with(decision, found[-1]) for decision in agreed):
            continue
        if found[-1].mm is None:
            yield _again(found[-2], found[-2].target)
        else:
            yield _aside(found[-1])


def _aside(row: Reading) -> Reading:
    return Reading(
        build_id=row.build_id,
        target=row.target,
        point=row.point,
        mm=None,
        unit="",
        instrument=Reading.Instrument.TAPE,
    )


def _again(row: Reading, target: str) -> Reading:
    return Reading(
        build_id=row.build_id,
        target=target,
        point=row.point,
        typed=row.typed,
        mm=row.mm,
        unit=row.unit,
        instrument=row.instrument,
        kept_after_second_look=row.kept_after_second_look,
    )
