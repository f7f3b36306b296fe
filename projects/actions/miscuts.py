"""Proposing a way out of a miscut, and deciding on it."""

from __future__ import annotations

from django.db import transaction
from django.utils import timezone

from projects.engine.errors import EngineError
from projects.engine.fit.miscut import Miscut
from projects.engine.units.length import UnitSystem
from projects.models import Decision, Reading, User, WayOut
from projects.ways_out import Details, wanted_details


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

    Where it is agreed that a distance gives, all sizes of the build follow from that.
    Raises `EngineError` where a newer proposal or reading follows it.
    """
    followed = WayOut.objects.filter(
        build=way.build_id, reading__target=way.reading.target, pk__gt=way.pk
    )
    read_again = Reading.objects.filter(
        build=way.build_id, target=way.reading.target, pk__gt=way.reading_id
    )
    if followed.exists():
        raise EngineError("A newer proposal follows this one; decide on that.")
    if read_again.exists():
        raise EngineError("The part was measured again since; this is no longer asked.")
    gives = agreed and way.kind == WayOut.Kind.LET_GIVE
    if gives or way.build.let_give_for == way.reading.target:
        way.build.let_give = way.details["distance"] if gives else ""
        way.build.let_give_for = way.reading.target if gives else ""
        way.build.save(update_fields=["let_give", "let_give_for"])
    return Decision.objects.create(
        way_out=way, agreed=agreed, note=note, at=timezone.now(), by=by
    )
