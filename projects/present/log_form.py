"""What the log form asks for: the next thing, or what somebody chose to log."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from projects.engine.fit.advice import (
    ENDS,
    POINTS,
    Target,
    expected_mm,
    free_point,
    missing_end,
    next_to_log,
    points_of,
)
from projects.engine.fit.dry_fit import ends_of
from projects.engine.fit.solve import Solution
from projects.engine.plan.records import FaceName, Plan
from projects.engine.units import Shown, decimal_text, exact_text, mm_per
from projects.models import Reading
from projects.showing import Showing


@dataclass(frozen=True, kw_only=True)
class LogForm:
    """What is asked: `target` and `point` to send back, and the words around it.

    `is_again` where the reading at that place counts; it is read anew then.
    `in_doubt` where it was logged and the other readings contradict it. `end` says at
    which end a distance on the dry assembly is measured, `one_end` is what was read at
    the other end where only that was.
    """

    target: str
    kind: str
    name: str
    dimension: str
    point: int
    points: int
    so_far: tuple[str, ...]
    is_again: bool
    expected: Shown | None
    expected_in: str
    instrument: str
    before: tuple[str, ...]
    fitted: tuple[str, ...]
    is_next: bool
    in_doubt: bool
    end: str = ""
    one_end: str = ""

    @property
    def label(self) -> str:
        """What the length field is called."""
        if self.kind in ("stock", "part"):
            return str(_("Thickness"))
        if self.kind == "distance":
            at_end = _("Distance, %(end)s") % {"end": self.end}
            return str(at_end if self.end else _("Distance"))
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
    # diagonals come in pairs, from a form of their own
    asked = target if target and target.kind != "diagonal" else None
    chosen = asked or following.target
    if chosen is None:
        return None
    is_next = chosen == following.target
    so_far = points_of(chosen, solution.readings)
    expected = expected_mm(chosen, solution)
    thickness = chosen.fact is None
    if point is None or chosen != target:
        point = following.point if is_next else _point(chosen, solution)
    end, one_end = _ends(chosen, point, solution)
    return LogForm(
        target=str(chosen),
        kind=chosen.kind,
        name=target_name(chosen, solution.plan),
        dimension=chosen.dimension or "",
        point=point,
        points=_points(chosen, point),
        is_again=any(reading.point == point for reading in so_far),
        so_far=tuple(exact_text(r.length.mm, unit=r.length.unit) for r in so_far),
        expected=showing.of(expected) if expected is not None else None,
        expected_in=decimal_text(expected / mm_per("in"), 4) if expected else "",
        instrument=_instrument(rows, thickness=thickness),
        before=following.before if is_next else (),
        fitted=following.fitted if is_next else (),
        is_next=is_next,
        in_doubt=is_next and following.in_doubt,
        end=end,
        one_end=one_end,
    )


def _point(target: Target, solution: Solution) -> int:
    """Return the point that is asked for where none was chosen."""
    if target.fact is None:
        return free_point(points_of(target, solution.readings))
    if target.kind == "distance":
        return missing_end(target.key, solution.readings) or 1
    return 1


def _points(target: Target, point: int) -> int:
    if target.fact is None:
        return max(POINTS, point)
    return ENDS if target.kind == "distance" else 1


def _ends(target: Target, point: int, solution: Solution) -> tuple[str, str]:
    """Return where a distance is measured, and what was read where only one end was."""
    if target.kind != "distance" or point > ENDS:
        return "", ""
    plan, readings = solution.plan, solution.readings
    along, faces = ends_of(plan, plan.distance_by_key[target.key])
    end = end_words(along.name, faces[point - 1])
    if missing_end(target.key, readings) != point:
        return end, ""
    length = readings.distance_points[target.key][0].length
    return end, exact_text(length.mm, unit=length.unit)


def end_words(part: str, face: FaceName) -> str:
    """Return which end of a part a tape is held at: `bottom end of Left side`."""
    said = {
        "left": _("left end of %(part)s"),
        "right": _("right end of %(part)s"),
        "front": _("front end of %(part)s"),
        "back": _("back end of %(part)s"),
        "bottom": _("bottom end of %(part)s"),
        "top": _("top end of %(part)s"),
    }
    return str(said[face] % {"part": part})


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
    if target.kind == "diagonal":
        name = plan.distance_by_key[target.key].name
        return _("Diagonals, %(distance)s") % {"distance": name}
    return plan.part_by_key[target.key].name
