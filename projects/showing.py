"""How sizes are shown to a person: on a tape, in decimal inches or in mm."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from django.http import HttpRequest
from django.utils.translation import gettext_lazy as _

from projects.engine.plan.records import Plan
from projects.engine.units import Shown, shown
from projects.engine.units.length import UnitSystem
from projects.engine.units.show import TAPES, Style

SESSION_KEY = "showing"
CHOICES = {
    **{f"tape-{tape}": _("Tape, to 1/%d in") % tape for tape in TAPES},
    "in": _("Decimal inches"),
    "mm": _("Millimetres"),
}


@dataclass(frozen=True, kw_only=True)
class Showing:
    """Hold one of `CHOICES` ready for use."""

    key: str
    style: Style
    tape: int

    @property
    def unit(self) -> UnitSystem:
        """The unit that numbers are worked in."""
        return "mm" if self.style == "mm" else "in"

    @property
    def words(self) -> str:
        """The choice in words."""
        return str(CHOICES[self.key])

    def of(self, mm: Fraction) -> Shown:
        """Return a length [mm] ready for a page."""
        return shown(mm, style=self.style, tape=self.tape)

    def difference(self, mm: Fraction) -> Shown:
        """Return a difference [mm] in decimals: it may be less than any mark."""
        return shown(mm, style="mm" if self.style == "mm" else "in")


def showing_named(key: str, plan: Plan) -> Showing:
    """Return the choice named `key`, or the plan's own where there is none."""
    if key not in CHOICES:
        key = "mm" if plan.units == "mm" else f"tape-{plan.tape}"
    style, _dash, tape = key.partition("-")
    if style == "tape":
        return Showing(key=key, style="tape", tape=int(tape))
    return Showing(key=key, style="mm" if key == "mm" else "in", tape=plan.tape)


def showing_for(request: HttpRequest, plan: Plan) -> Showing:
    """Return what this person chose, or what suits the plan."""
    return showing_named(str(request.session.get(SESSION_KEY, "")), plan)
