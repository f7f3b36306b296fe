"""What happened to a run sheet since it was kept, in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime

from django.utils.translation import gettext

from projects.present.drawings import length_text
from projects.present.run_sheet_numbers import number_label
from projects.run_sheet_moves import Changed, Moved, Since
from projects.run_sheets import Night
from projects.showing import Showing


@dataclass(frozen=True, kw_only=True)
class SinceLines:
    """What moved since a sheet was kept at a time; no line where nothing did."""

    at: datetime
    by: str
    lines: tuple[str, ...]


def since_lines(since: Since, night: Night, showing: Showing) -> SinceLines:
    """Return what happened since a sheet was kept."""
    # a move may be less than any mark of a tape
    fine = replace(showing, style="in") if showing.style == "tape" else showing
    names = {p.student.build: p.student.name for p in night.people}
    away = {p.student.build for p in night.people if not p.is_here}
    lines = [
        *(_moved(moved, names, fine) for moved in since.moved),
        *(line for changed in since.changed for line in _changed(changed, fine)),
    ]
    for build in since.came:
        lines.append(gettext("{name} came in.").format(name=names[build]))
    for build in since.went:
        if build in away:
            text = gettext("{name} is not here now.")
        elif build in names:
            text = gettext("{name} has nothing to cut here now.")
        else:
            text = gettext("{name} left the class.")
        lines.append(text.format(name=names.get(build, gettext("Somebody"))))
    return SinceLines(at=since.kept.at, by=since.kept.by.name, lines=tuple(lines))


def _moved(moved: Moved, names: dict[int, str], showing: Showing) -> str:
    setting = moved.job.setting
    wants = ", ".join(
        f"{number_label(q.name, setting).lower()} {length_text(q.mm, showing)}"
        for q in setting.quantities
        if q.mm is not None and q.name in ("stop", "width", "height")
    )
    return gettext(
        "{name} moved from setup {before} to {now}; wanted now: {wants}."
    ).format(name=names[moved.build], before=moved.before, now=moved.now, wants=wants)


def _changed(changed: Changed, showing: Showing) -> Iterator[str]:
    setting = changed.setup.jobs[0].setting
    for name, mm in changed.setup.at.items():
        was = changed.before.get(name)
        if was is not None and was != mm:
            yield gettext("Setup {n}: {label} is now {now}, was {was}.").format(
                n=changed.number,
                label=number_label(name, setting).lower(),
                now=length_text(mm, showing),
                was=length_text(was, showing),
            )
