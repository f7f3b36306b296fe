"""One student's row of the overview: the step in hand, and what holds it up."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop

from projects.engine.plan.steps import STAGES
from projects.engine.shop.machines import MACHINES
from projects.overview import Roll, Rows, Student, stand
from projects.present.overview_needs import Need, ago_words, best, needs_of, state_words
from projects.stands import Place

ALL_DONE, BROKEN = "done", "broken"
"""Where somebody is who has no step in hand."""

_STAGE_NAMES = {
    **{str(key): name for key, name in STAGES.items()},
    BROKEN: gettext_noop("Can't be built as read"),
    ALL_DONE: gettext_noop("All done"),
}


@dataclass(frozen=True, kw_only=True)
class StudentRow:
    """One student; `machine` and `sign_off` are those of the step in hand, in words.

    `working` is what stands of them behind the step: what needs no help.
    """

    build: int
    name: str
    url: str
    stage: str
    stage_name: str
    number: int
    title: str
    machine: str
    sign_off: str
    working: str
    needs: tuple[Need, ...]
    done: int
    steps: int
    seen_at: datetime | None
    seen: str
    seen_iso: str
    seen_exact: str
    hand_at: datetime | None
    hand_note: str

    @property
    def progress(self) -> str:
        """How many of the steps are done, in words."""
        return _("%(done)d of %(steps)d") % {
            "done": self.done,
            "steps": self.steps,
        }


def student_row(roll: Roll, rows: Rows, student: Student) -> StudentRow:
    """Return one student's row; it leads to where to sign off only who may."""
    found = stand(roll, rows, student)
    place = found.in_hand
    stage = place.standing.step.stage if place else ALL_DONE
    if found.is_broken:
        stage = BROKEN
    seen_at = rows.seen.get(student.build)
    local = timezone.localtime(seen_at) if seen_at else None
    machine, sign_off = _machine(roll, rows, student, place)
    return StudentRow(
        build=student.build,
        name=student.name,
        url=reverse("build-steps", args=[student.build]),
        stage=stage,
        stage_name=_(_STAGE_NAMES[stage]),
        number=place.number if place else 0,
        title=place.standing.step.title if place else "",
        machine=machine,
        sign_off=sign_off,
        working=_working(place, machine, sign_off),
        needs=tuple(needs_of(roll, rows, student, found)),
        done=found.done,
        steps=found.steps,
        seen_at=seen_at,
        seen=ago_words(local, roll.now) if local else _("never"),
        seen_iso=local.isoformat(timespec="minutes") if local else "",
        seen_exact=date_format(local, "DATETIME_FORMAT") if local else "",
        hand_at=student.hand_at if student.hand_raised else None,
        hand_note=student.hand_note or "",
    )


def _machine(
    roll: Roll, rows: Rows, student: Student, place: Place | None
) -> tuple[str, str]:
    """Return the machine of the step in hand, and where the student stands with it."""
    way = place.way if place else None
    if way is None:
        return "", ""
    machine, state = best(roll, rows, student, way.machine)
    if machine is None:  # the bench, or hand tools that the shop doesn't list
        return _(MACHINES[way.machine].name), ""
    return machine.name, state_words(state)


def _working(place: Place | None, machine: str, sign_off: str) -> str:
    """Return how the step in hand can be worked on as it is; empty where it can't."""
    if place is None:
        return ""
    if not place.lacks_sign_off:
        return (
            _("%(machine)s, signed off") % {"machine": machine} if sign_off else machine
        )
    names = [_(MACHINES[way.machine].name) for way in place.standing.open_ways[:1]]
    return _("meanwhile: %(machine)s") % {"machine": names[0]} if names else ""
