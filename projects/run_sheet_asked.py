"""What an address of a run sheet asks for: the machine, the meeting, the tolerances."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from hashlib import blake2b
from urllib.parse import urlencode

from django.http import HttpRequest
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils import timezone

from projects import adapters
from projects.engine.plan.records import Plan
from projects.models import Machine, Meeting, RunSheet, ShopClass
from projects.overview import Roll, roll_of
from projects.run_sheet_forms import KINDS, ToleranceForm, tolerances_from
from projects.run_sheets import Night, meeting_for, newest_told, night_of
from projects.showing import Showing, showing_for

SESSION_KEY = "run_sheet_tolerances"


@dataclass(frozen=True, kw_only=True, eq=False)
class Asked:
    """What an address of a run sheet asks for; `read` are the tolerances [mm]."""

    shop_class: ShopClass
    machine: Machine
    meeting: Meeting | None
    roll: Roll
    kept: RunSheet | None
    form: ToleranceForm
    read: dict[str, Fraction]
    showing: Showing

    @cached_property
    def night(self) -> Night:
        """What the sheet is made from; costs five queries, or six."""
        return night_of(
            self.roll,
            self.machine,
            meeting=self.meeting,
            tolerances=tolerances_from(self.read),
        )

    @cached_property
    def token(self) -> str:
        """What changes with whatever the sheet tells; costs two queries."""
        told = (
            self.roll.token,
            newest_told(self.roll, self.meeting),
            self.kept and self.kept.pk,
            self.meeting and self.meeting.pk,
            sorted(self.read.items()),
            self.showing.key,
            (self.machine.limits, self.machine.cautions),
        )
        return blake2b(repr(told).encode(), digest_size=8).hexdigest()

    @property
    def query(self) -> str:
        """The end of an address that asks for the same meeting."""
        return urlencode({"meeting": self.meeting.pk} if self.meeting else {})

    def url(self, name: str, **more: str) -> str:
        """Return an address of this machine's sheet."""
        base = reverse(name, args=[self.shop_class.pk, self.machine.pk])
        query = "&".join(part for part in (self.query, urlencode(more)) if part)
        return f"{base}?{query}" if query else base


def read_asked(request: HttpRequest, shop_class: ShopClass, machine: int) -> Asked:
    """Return what is asked for; 404 for a machine that the shop hasn't (any more).

    Costs five queries, and keeps tolerances that were typed with the session.
    """
    machines = Machine.objects.filter(shop=shop_class.shop_id, retired_at=None)
    found = get_object_or_404(machines, pk=machine)
    now = timezone.now()
    plan = adapters.plan_of(shop_class.revision)
    form, read = _tolerances(request, found, plan)
    return Asked(
        shop_class=shop_class,
        machine=found,
        meeting=meeting_for(shop_class, request.GET.get("meeting", ""), now=now),
        roll=roll_of(shop_class, now=now),
        kept=_kept(shop_class, found),
        form=form,
        read=read,
        showing=showing_for(request, plan),
    )


def _tolerances(
    request: HttpRequest, machine: Machine, plan: Plan
) -> tuple[ToleranceForm, dict[str, Fraction]]:
    """Return the form as typed, and what counts: where it has errors, what did."""
    every = request.session.get(SESSION_KEY, {})
    before = ToleranceForm(every.get(str(machine.pk), {}), plan=plan)
    before.full_clean()
    if not any(kind.name in request.GET for kind in KINDS):
        return ToleranceForm(initial=before.shown(), plan=plan), before.read
    form = ToleranceForm(request.GET, plan=plan)
    if not form.is_valid():
        return form, before.read
    request.session[SESSION_KEY] = {**every, str(machine.pk): form.typed()}
    return ToleranceForm(initial=form.shown(), plan=plan), form.read


def _kept(shop_class: ShopClass, machine: Machine) -> RunSheet | None:
    """Return the sheet kept last today; costs a query."""
    kept = shop_class.run_sheets.filter(machine=machine).select_related("by").last()
    if kept is None or timezone.localdate(kept.at) != timezone.localdate():
        return None
    return kept
