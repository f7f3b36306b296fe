"""What holds a student of the overview up, in words, and where it is mended."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from projects import adapters
from projects.engine.plan.records import Plan
from projects.engine.plan.steps import STOCK
from projects.engine.shop.machines import MACHINES
from projects.engine.steps.standing import Block
from projects.models import Machine
from projects.overview import COARSE, Roll, Rows, SignOffState, Student
from projects.stands import Place, Stand

RANKS = (
    "hand",
    "broken",
    "doubt",
    "miscut",
    "sign_off",
    "reading",
    "dry_fit",
    "no_machine",
)
"""What holds somebody up, the loudest first."""
_MARKS = {
    "hand": "hand",
    "broken": "error",
    "doubt": "doubt",
    "miscut": "doubt",
    "sign_off": "todo",
}
_NO_STATE = SignOffState("none", None)
_BEST = ("signed", "lapsed", "withdrawn", "none")
_HOUR = timedelta(hours=1)


@dataclass(frozen=True, kw_only=True)
class Need:
    """One thing that holds a student up; `url` and `link` lead to where it is mended.

    `key` is what the link is known by on the page, before the build's number.
    """

    kind: str
    text: str
    key: str = ""
    url: str = ""
    link: str = ""

    @property
    def mark(self) -> str:
        """The mark that stands before it."""
        return _MARKS.get(self.kind, "wait")

    @property
    def rank(self) -> int:
        """How loud it is: 0 is the loudest."""
        return RANKS.index(self.kind)

    @property
    def is_loud(self) -> bool:
        """Tell whether somebody is to come now."""
        return self.rank < RANKS.index("sign_off")


def needs_of(roll: Roll, rows: Rows, student: Student, found: Stand) -> Iterator[Need]:
    """Yield what holds a student up, the loudest first."""
    if student.hand_raised and student.hand_at:
        ago = ago_words(timezone.localtime(student.hand_at), roll.now)
        yield Need(kind="hand", text=_hand_words(ago, student.hand_note or ""))
    if found.is_broken or found.doubts:
        yield _reading_need(student, found)
    if student.miscut:
        yield _miscut_need(student, student.miscut, found.plan)
    places = list(dict.fromkeys((found.first, found.in_hand)))
    told = [place for place in places if place is not None]
    lacking = {
        place.way.machine: place
        for place in reversed(told)
        if place.way is not None and place.lacks_sign_off
    }
    for kind, place in reversed(lacking.items()):
        machine, state = best(roll, rows, student, kind)
        if machine is not None:
            prefix = "" if place is found.in_hand else _prefix(place)
            yield _sign_off_need(
                student, machine, state, prefix, may_sign=roll.may_sign
            )
    if found.first is not None:
        prefix = "" if found.first is found.in_hand else _prefix(found.first)
        for block in (*found.first.standing.blocks, *_to_log(found.first)):
            if text := _block_words(block, found.plan):
                yield Need(kind=block.kind, text=prefix + text)


def _to_log(place: Place) -> Iterator[Block]:
    """Yield what a step that could be begun measures itself: it waits for that."""
    standing = place.standing
    if standing.is_open and standing.to_log:
        stock = tuple(key for key in standing.to_log if key.startswith(STOCK))
        other = tuple(key for key in standing.to_log if key not in stock)
        if stock:
            yield Block(kind="reading", about=stock)
        if other:
            yield Block(kind="dry_fit", about=other)


def _prefix(place: Place) -> str:
    return _("Step %(number)d: ") % {"number": place.number}


def _hand_words(ago: str, note: str) -> str:
    if note:
        return _("Hand up %(ago)s: %(note)s") % {"ago": ago, "note": note}
    return _("Hand up %(ago)s") % {"ago": ago}


def _reading_need(student: Student, found: Stand) -> Need:
    doubts = ngettext("%(n)d reading in doubt", "%(n)d readings in doubt", found.doubts)
    broken = _("can't be built with these readings")
    return Need(
        kind="broken" if found.is_broken else "doubt",
        text=broken if found.is_broken else doubts % {"n": found.doubts},
        key="r",
        url=reverse("readings", args=[student.build]),
        link=_("Readings"),
    )


def _miscut_need(student: Student, text: str, plan: Plan) -> Need:
    target = adapters.read_target(text, plan)
    url = reverse("readings", args=[student.build])
    if target is not None and target.kind == "cut":
        place = (student.build, target.key, target.dimension)
        url = reverse("build-miscut", args=place)
    return Need(
        kind="miscut",
        text=_("asks about a miscut"),
        key="w",
        url=url,
        link=_("Decide"),
    )


def _sign_off_need(
    student: Student,
    machine: Machine,
    state: SignOffState,
    prefix: str,
    *,
    may_sign: bool,
) -> Need:
    words = {"machine": machine.name, "state": state_words(state)}
    text = prefix + _("%(machine)s: %(state)s") % words
    if not may_sign:
        return Need(kind="sign_off", text=text)
    return Need(
        kind="sign_off",
        text=text,
        key=f"m{machine.pk}-",
        url=reverse("sign-off", args=[student.build, machine.pk]),
        link=_("Sign off"),
    )


def _block_words(block: Block, plan: Plan) -> str:
    """Return what blocks a step in words; empty where it is told elsewhere."""
    if block.kind == "reading":
        names = [plan.stock_by_key[key.removeprefix(STOCK)].name for key in block.about]
        return _("measure first: %(names)s") % {"names": ", ".join(names)}
    if block.kind == "dry_fit":
        names = [plan.distance_by_key[key].name for key in block.about]
        return _("dry fit first: %(names)s") % {"names": ", ".join(names)}
    if block.kind == "no_machine":
        names = [_(MACHINES[key].name) for key in block.about]
        return _("not in this shop: %(names)s") % {"names": ", ".join(names)}
    return ""


def best(
    roll: Roll, rows: Rows, student: Student, kind: str
) -> tuple[Machine | None, SignOffState]:
    """Return the machine of a kind that the student has got furthest with."""
    states = rows.sign_offs.get(student.student, {})
    best: tuple[Machine | None, SignOffState] = (None, _NO_STATE)
    for machine in roll.machines:
        if machine.kind != kind:
            continue
        state = states.get(machine.pk, _NO_STATE)
        if best[0] is None or _BEST.index(state.state) < _BEST.index(best[1].state):
            best = (machine, state)
    return best


def state_words(found: SignOffState) -> str:
    if found.state == "signed":
        return _("signed off")
    if found.state == "withdrawn":
        return _("sign-off withdrawn")
    if found.state == "lapsed" and found.lapses_on is not None:
        day = date_format(found.lapses_on, "DATE_FORMAT")
        return _("sign-off lapsed after %(day)s") % {"day": day}
    return _("not signed off")


def ago_words(at: datetime, now: datetime) -> str:
    """Return how long ago something was, coarsely; `at` in the shop's zone."""
    ago = now - at
    if ago < COARSE:
        return _("just now")
    today = timezone.localtime(now)
    if at.date() != today.date():
        same_year = at.year == today.year
        return date_format(at, "MONTH_DAY_FORMAT" if same_year else "DATE_FORMAT")
    if ago < _HOUR:
        return _("%(n)d min ago") % {"n": 10 * (ago // COARSE)}
    return _("%(n)d h ago") % {"n": ago // _HOUR}
