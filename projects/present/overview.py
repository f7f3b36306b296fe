"""A class as the instructor reads it: one row a student, and what calls for help."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING
from urllib.parse import urlencode

from django.utils.datastructures import MultiValueDict
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from projects.engine.plan.steps import STAGES
from projects.overview import Roll, Rows
from projects.present.overview_rows import ALL_DONE, BROKEN, StudentRow, student_row
from projects.tables import Value

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise as StrPromise

SORTS = {
    "stage": gettext_lazy("Stage"),
    "name": gettext_lazy("Name"),
    "quiet": gettext_lazy("Quiet"),
    "blocked": gettext_lazy("Held up first"),
}
SHOWS = {
    "all": gettext_lazy("All"),
    "hands": gettext_lazy("Hands up"),
    "blocked": gettext_lazy("Held up"),
    "not-signed": gettext_lazy("Not signed"),
}
_STAGES = (BROKEN, *STAGES, ALL_DONE)
"""The stages in the order they are shown in: what can't be built first."""


@dataclass(frozen=True, kw_only=True)
class Asked:
    """How the rows are sorted and which of them are shown."""

    sort: str = "stage"
    show: str = "all"
    stage: str = ""

    def query(self, **changed: str) -> str:
        """Return this as the end of an address, with what is `changed`."""
        values = {"sort": self.sort, "show": self.show, "stage": self.stage, **changed}
        plain = {"sort": "stage", "show": "all", "stage": ""}
        said = {key: value for key, value in values.items() if value != plain.get(key)}
        return f"?{urlencode(said)}" if said else "?"


def read_asked(given: MultiValueDict[str, str]) -> Asked:
    """Return what an address asks for; what it doesn't know it leaves out."""
    sort, show, stage = (given.get(name, "") for name in ("sort", "show", "stage"))
    return Asked(
        sort=sort if sort in SORTS else "stage",
        show=show if show in SHOWS else "all",
        stage=stage if stage in _STAGES else "",
    )


@dataclass(frozen=True, kw_only=True)
class Choice:
    """One way to sort or to filter, as a link; `key` is what it is known by."""

    key: str
    name: str
    query: str
    is_chosen: bool = False


@dataclass(frozen=True, kw_only=True)
class Group:
    """The rows under one heading; `name` is empty where there is none."""

    key: str
    rows: Sequence[StudentRow]
    name: str = ""
    query: str = ""


@dataclass(frozen=True, kw_only=True)
class Overview:
    """All that the page shows of the students."""

    token: str
    asked: Asked
    count: int
    behind: int
    no_machines: bool
    groups: Sequence[Group]
    hands: Sequence[StudentRow]
    said: Sequence[Choice]
    shows: Sequence[Choice]
    sorts: Sequence[Choice]

    @property
    def poll(self) -> str:
        """The end of the address that tells whether something changed."""
        return self.asked.query(since=self.token)

    @property
    def everybody(self) -> str:
        """The end of the address that leaves the filters out."""
        return self.asked.query(show="all", stage="")


def overview(roll: Roll, rows: Rows, asked: Asked) -> Overview:
    """Return the overview of a class as it is `asked` for."""
    everybody = all_rows(roll, rows)
    shown = [row for row in everybody if _is_shown(row, asked)]
    hands = [row for row in everybody if row.hand_at is not None]
    return Overview(
        token=roll.token,
        asked=asked,
        count=len(everybody),
        behind=sum(student.is_behind for student in roll.students),
        no_machines=not roll.machines,
        groups=_groups(shown, asked),
        hands=sorted(hands, key=lambda row: (row.hand_at, row.name)),
        said=_said(everybody, asked),
        shows=_choices("show", asked, SHOWS),
        sorts=_choices("sort", asked, SORTS),
    )


def all_rows(roll: Roll, rows: Rows) -> list[StudentRow]:
    """Return everybody's row, by name."""
    return [student_row(roll, rows, student) for student in roll.students]


def _choices(kind: str, asked: Asked, names: Mapping[str, StrPromise]) -> list[Choice]:
    """Return the ways to sort or to show, as links; the one chosen is marked."""
    chosen = getattr(asked, kind)
    return [
        Choice(
            key=f"{kind}-{key}",
            name=str(name),
            query=asked.query(**{kind: key}),
            is_chosen=key == chosen,
        )
        for key, name in names.items()
    ]


def _is_shown(row: StudentRow, asked: Asked) -> bool:
    if asked.stage and row.stage != asked.stage:
        return False
    if asked.show == "hands":
        return row.hand_at is not None
    if asked.show == "not-signed":
        return any(need.kind == "sign_off" for need in row.needs)
    return asked.show != "blocked" or bool(row.needs)


def _groups(rows: list[StudentRow], asked: Asked) -> list[Group]:
    if not rows:
        return []
    if asked.sort == "name":
        return [Group(key="all", rows=rows)]
    if asked.sort == "quiet":
        return [Group(key="all", rows=sorted(rows, key=_quiet))]
    if asked.sort == "blocked":
        return [Group(key="all", rows=sorted(rows, key=_held_up))]
    rows = sorted(rows, key=lambda row: (_STAGES.index(row.stage), row.number))
    return [
        Group(key=key, rows=list(found), name=name, query=asked.query(stage=key))
        for (key, name), found in groupby(rows, lambda row: (row.stage, row.stage_name))
    ]


def _quiet(row: StudentRow) -> float:
    """Sort who was never seen first, then who was seen longest ago."""
    return row.seen_at.timestamp() if row.seen_at else 0


def _held_up(row: StudentRow) -> tuple[int, float]:
    """Sort by what is loudest; hands by how long they have been up."""
    loudest = min((need.rank for need in row.needs), default=99)
    return loudest, row.hand_at.timestamp() if row.hand_at else 0


def _said(rows: Iterable[StudentRow], asked: Asked) -> list[Choice]:
    """Return what holds people up, counted in words; each leads to those rows."""
    counts = Counter(kind for row in rows for kind in {need.kind for need in row.needs})
    words = {
        "broken": _("%(n)d can't be built as read"),
        "doubt": ngettext(
            "%(n)d has a reading in doubt",
            "%(n)d have a reading in doubt",
            counts["doubt"],
        ),
        "miscut": ngettext(
            "%(n)d asks about a miscut",
            "%(n)d ask about a miscut",
            counts["miscut"],
        ),
        "sign_off": ngettext(
            "%(n)d waits for a sign-off",
            "%(n)d wait for a sign-off",
            counts["sign_off"],
        ),
        "reading": ngettext(
            "%(n)d waits for a reading",
            "%(n)d wait for a reading",
            counts["reading"],
        ),
        "dry_fit": ngettext(
            "%(n)d waits for the dry fit",
            "%(n)d wait for the dry fit",
            counts["dry_fit"],
        ),
        "no_machine": ngettext(
            "%(n)d lacks a machine", "%(n)d lack a machine", counts["no_machine"]
        ),
    }
    leads = {"sign_off": "not-signed"}
    return [
        Choice(
            key=f"said-{kind}",
            name=text % {"n": counts[kind]},
            query=asked.query(show=leads.get(kind, "blocked"), stage=""),
        )
        for kind, text in words.items()
        if counts[kind]
    ]


def table(roll: Roll, rows: Rows) -> tuple[list[str], list[list[Value]]]:
    """Return the overview as a table to take away: its header and its rows."""
    header = [
        _("Student"),
        _("Stage"),
        _("Step"),
        _("Step in hand"),
        _("Machine"),
        _("Sign-off"),
        _("Held up by"),
        _("Steps done"),
        _("Steps"),
        _("Last sign of life"),
    ]
    return header, [
        [
            row.name,
            row.stage_name,
            row.number or None,
            row.title,
            row.machine,
            row.sign_off,
            "; ".join(need.text for need in row.needs),
            row.done,
            row.steps,
            row.seen_at,
        ]
        for row in all_rows(roll, rows)
    ]
