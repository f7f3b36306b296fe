"""What changed at a meeting since its plan was made."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from projects.meeting_night import MINUTE, Evening
from projects.models import MeetingPlan, Presence


def since(evening: Evening, plan: MeetingPlan) -> Iterator[str]:
    """Say what changed since the plan was made, a sentence each."""
    words = {
        Presence.State.PRESENT: _("%(name)s is here"),
        Presence.State.LATE: _("%(name)s comes later"),
        Presence.State.AWAY: _("%(name)s is away"),
    }
    for person in evening.people:
        if person.heard and person.heard.at > plan.at:
            said = Presence.State(person.heard.state)
            yield words[said] % {"name": person.student.name}
    for machine in evening.floor.machines:
        row = evening.outages.get(machine.pk)
        if row and row.at > plan.at:
            text = _("%(name)s is down") if row.down else _("%(name)s runs again")
            yield text % {"name": machine.name}
    ticked = len({(m.build_id, m.step) for m in evening.marks if m.at > plan.at})
    if ticked:
        text = ngettext("%(n)d step was ticked", "%(n)d steps were ticked", ticked)
        yield text % {"n": ticked}
    late = _overdue(evening)
    if late:
        yield ngettext(
            "%(n)d step that should be done by now isn't ticked",
            "%(n)d steps that should be done by now aren't ticked",
            late,
        ) % {"n": late}


def _overdue(evening: Evening) -> int:
    here: Sequence[str] = [str(p.student.build) for p in evening.people if p.is_here]
    if evening.is_over:
        return 0
    minute = (evening.now - evening.meeting.starts_at) / MINUTE
    return sum(
        turn.end <= minute
        and turn.student in here
        and (turn.student, turn.task) not in evening.done
        for turn in evening.turns
    )
