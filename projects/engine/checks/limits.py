"""What a shop allows and takes, each limit with where it comes from."""

from __future__ import annotations

from dataclasses import dataclass, fields
from fractions import Fraction

from projects.engine.checks.records import PRACTICE
from projects.engine.errors import EngineError
from projects.engine.units import mm_per
from projects.engine.wood.movement import HIGH_PCT, LOW_PCT

IN = mm_per("in")
N_PER_POUND = Fraction("0.45359237") * Fraction("9.80665")
"""One pound of force [N].

Source: the international pound (Federal Register 24 FR 5348, 1 July 1959) times
standard gravity (3rd General Conference on Weights and Measures, 1901); from memory.
"""


class ShopError(EngineError):
    """Tell that a shop's limit makes no sense."""


@dataclass(frozen=True, kw_only=True)
class Limit:
    """Hold one limit, in the unit its field's name says, and where it comes from."""

    value: Fraction
    source: str = "set for this shop"


@dataclass(frozen=True, kw_only=True)
class Machine:
    """Say the smallest part a machine takes [mm]; None where nothing is said."""

    name: str
    shortest_mm: Limit | None = None
    narrowest_mm: Limit | None = None
    thinnest_mm: Limit | None = None


PLANER = Machine(
    name="planer",
    shortest_mm=Limit(
        value=12 * IN, source=f"{PRACTICE} (12 to 14 in are named; from memory)"
    ),
    thinnest_mm=Limit(
        value=IN * 3 / 16, source=f"{PRACTICE} (one machine's manual, as quoted)"
    ),
)
JOINTER = Machine(
    name="jointer",
    shortest_mm=Limit(value=12 * IN, source=f"{PRACTICE} (several schools' rules)"),
    thinnest_mm=Limit(
        value=IN / 4, source=f"{PRACTICE} (a school's rules; a manual says 1/2 in)"
    ),
)
TABLE_SAW = Machine(
    name="table saw",
    shortest_mm=Limit(
        value=12 * IN, source="Popular Woodworking no. 165, November 2007, p. 55"
    ),
)


@dataclass(frozen=True, kw_only=True)
class ShopLimits:
    """Hold what one shop takes and allows; a machine is None where it has none.

    `slot_share` [-] is the share of its host a slot may be deep. Between two slots
    back to back at least `web_mm` [mm] and `web_share` [-] of the host stay. `lip_mm`
    [mm] is the thinnest wood left behind or beside a slot, `bearing_mm` [mm] the flat
    that a bit's guide bearing runs on. `swing_pct` is the lowest
    and highest moisture [%] wood is expected to reach. `held_mm` [mm] is what a held
    part may move, `tight_mm` [mm] what a panel may want more than its grooves give.
    A shelf under `shelf_load_n_per_mm` [N/mm] may sag `sag_share` [-] of its span.

    Raises `ShopError` for a share above 1, a limit not above 0, and moistures that
    are not rising within 6 to 14 %.
    """

    planer: Machine | None = PLANER
    jointer: Machine | None = JOINTER
    table_saw: Machine | None = TABLE_SAW
    slot_share: Limit = Limit(
        value=Fraction(1, 2), source=f"{PRACTICE} (texts give 1/4 to 1/2)"
    )
    web_mm: Limit = Limit(value=IN / 4, source=PRACTICE)
    web_share: Limit = Limit(value=Fraction(1, 3), source=PRACTICE)
    lip_mm: Limit = Limit(value=IN / 8, source=PRACTICE)
    bearing_mm: Limit = Limit(value=IN / 8, source=PRACTICE)
    low_pct: Limit = Limit(value=Fraction(8), source=PRACTICE)
    high_pct: Limit = Limit(value=Fraction(12), source=PRACTICE)
    held_mm: Limit = Limit(value=IN / 16, source=PRACTICE)
    tight_mm: Limit = Limit(value=IN / 32, source=PRACTICE)
    shelf_load_n_per_mm: Limit = Limit(
        value=30 * N_PER_POUND / (12 * IN),
        source=f"{PRACTICE} (30 lb on each foot, a full row of books)",
    )
    sag_share: Limit = Limit(
        value=Fraction(1, 600), source=f"{PRACTICE} (0.02 in a foot)"
    )

    def __post_init__(self) -> None:
        for field in fields(self):
            limit = getattr(self, field.name)
            if isinstance(limit, Limit):
                _need_sense(field.name, limit.value)
        for machine in self.machines:
            for field in fields(machine):
                limit = getattr(machine, field.name)
                if isinstance(limit, Limit):
                    _need_sense(f"{machine.name}, {field.name}", limit.value)
        if not LOW_PCT <= self.low_pct.value < self.high_pct.value <= HIGH_PCT:
            raise ShopError(
                "the moistures must rise within {low} to {high} % "
                "(got {first} to {last})",
                low=LOW_PCT,
                high=HIGH_PCT,
                first=self.low_pct.value,
                last=self.high_pct.value,
            )

    @property
    def machines(self) -> tuple[Machine, ...]:
        """The machines the shop has."""
        every = (self.jointer, self.planer, self.table_saw)
        return tuple(machine for machine in every if machine is not None)


def _need_sense(name: str, value: Fraction) -> None:
    if value <= 0:
        raise ShopError("{name} must be above 0 (got {value})", name=name, value=value)
    if name.endswith("_share") and value > 1:
        raise ShopError(
            "{name} must be at most 1 (got {value})", name=name, value=value
        )
