"""The words behind a second look, in shown sizes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from projects.engine.fit.advice import SecondLook
from projects.engine.units import Shown
from projects.showing import Showing


@dataclass(frozen=True, kw_only=True)
class LookLine:
    """Why a reading deserves a second look: `off_plan`, `spread` or `ends`."""

    why: str
    expected: Shown
    off: Shown


def look_lines(looks: Iterable[SecondLook], showing: Showing) -> tuple[LookLine, ...]:
    """Return each reason with what the reading was held against."""
    return tuple(
        LookLine(
            why=look.why,
            expected=_shown(look, showing),
            off=showing.difference(look.off_mm),
        )
        for look in looks
    )


def _shown(look: SecondLook, showing: Showing) -> Shown:
    # points of a board differ by less than a tape shows
    if look.why == "spread":
        return showing.difference(look.expected_mm)
    return showing.of(look.expected_mm)
