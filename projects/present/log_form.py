"""What the log form asks for: the next thing, or what somebody chose to log."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from projects.engine.fit.advice import (
    POINTS,
    Target,
    expected_mm,
    next_to_log,
    points_of,
)
from projects.engine.fit.solve import Solution
from projects.engine.plan.records import Plan
from projects.engine.units import Shown, decimal_text, exact_text, mm_per
from projects.models import Reading
from projects.showing import Showing


@dataclass(frozen=True, kw_only=True)
class LogForm:
    """What is asked: `target` and `point` to send back, and the words around it.

    `in_doubt` where it was logged and the other readings contradict it.
    """

    target: str
    kind: str
    name: str
    dimension: str
    point: int
    points: int
    so_far: tuple[str, ...]
    expected: Shown | None
    expected_in: str
    instrument: str
    before: tuple[str, ...]
    fitted: tuple[str, ...]
    is_next: bool
    in_doubt: bool

    @property
    def label(self) -> str:
        """What the length field is called."""
        if self.kind in ("stock", "part"):
            return str(_("Thickness"))
        if self.kind == "distance":
            return str(_("Distance"))
        return str(_("Width")) if self.dimension == "width" else str(_("Length"))


def log_form(
    solution: Solution,
    showing: Showing,
    *,
    target: Target | None = None,
    point: int | None = None,
    rows: Sequence[Reading] = (),
) -> LogForm | None:
    """Return what to ask for; None where nothing is chosen and nothing is left."""
    following = next_to_log(solution)
    chosen = target or following.target
    if chosen is None:
        return None
    is_next = chosen == following.target
    so_far = points_of(chosen, solution.readings)
    expected = expected_mm(chosen, solution)
    thickness = chosen.fact is None
    if point is None:
        point = following.point if is_next else (len(so_far) + 1 if thickness else 1)
    return LogForm(
        target=str(chosen),
        kind=chosen.kind,
        name=target_name(chosen, solution.plan),
        dimension=chosen.dimension or "",
        point=point,
        points=max(POINTS, point) if thickness else 1,
        so_far=tuple(exact_text(r.length.mm, unit=r.length.unit) for r in so_far),
        expected=showing.of(expected) if expected is not None else None,
        expected_in=decimal_text(expected / mm_per("in"), 4) if expected else "",
        instrument=_instrument(rows, thickness=thickness),
        before=following.before if is_next else (),
        fitted=following.fitted if is_next else (),
        is_next=is_next,
        in_doubt=is_next and following.in_doubt,
    )


def _instrument(rows: Sequence[Reading], *, thickness: bool) -> str:
    """Return what things of this kind were measured with last, or usually are."""
    for row in reversed(rows):
        if row.target.startswith(("stock:", "part:")) is thickness and row.typed:
            return row.instrument
    return "caliper" if thickness else "tape"


def target_name(target: Target, plan: Plan) -> str:
    """Return what a target is called in the plan."""
    if target.kind == "stock":
        return plan.stock_by_key[target.key].name
    if target.kind == "distance":
        return plan.distance_by_key[target.key].name
    return plan.part_by_key[target.key].name
