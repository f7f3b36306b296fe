"""A shop's limits: from what an instructor typed to what the checks take."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, Literal

from django.forms import BoundField, Form
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from projects.engine.checks import Limit, Machine, ShopLimits
from projects.engine.checks.limits import IN, N_PER_POUND
from projects.engine.units import exact_text, read_length
from projects.models import Shop, User

MACHINES = ("planer", "jointer", "table_saw")
SIDES = ("shortest_mm", "narrowest_mm", "thinnest_mm")
USUAL = ShopLimits()
_TITLES = {"planer": _("Planer"), "jointer": _("Jointer"), "table_saw": _("Table saw")}
Kind = Literal["length", "percent", "number"]


@dataclass(frozen=True, kw_only=True)
class Field:
    """Describe one limit on the form; one typed is `scale` of the limit's unit."""

    name: str
    label: Promise
    kind: Kind
    scale: Fraction = Fraction(1)


FIELDS: tuple[Field, ...] = (
    Field(
        name="slot_share",
        label=_("A slot may go this deep into its host, %"),
        kind="percent",
        scale=Fraction(1, 100),
    ),
    Field(
        name="web_mm",
        label=_("Wood left between two slots back to back"),
        kind="length",
    ),
    Field(name="lip_mm", label=_("Thinnest wood left beside a slot"), kind="length"),
    Field(
        name="bearing_mm",
        label=_("Flat that a bit's guide bearing runs on"),
        kind="length",
    ),
    Field(name="low_pct", label=_("Driest the wood gets, %"), kind="number"),
    Field(name="high_pct", label=_("Dampest the wood gets, %"), kind="number"),
    Field(name="held_mm", label=_("A held part may move"), kind="length"),
    Field(
        name="tight_mm",
        label=_("A panel may want this much more than its grooves give"),
        kind="length",
    ),
    Field(
        name="shelf_load_n_per_mm",
        label=_("Load on a shelf, lb on each foot"),
        kind="number",
        scale=N_PER_POUND / (12 * IN),
    ),
    Field(
        name="sag_share",
        label=_("A shelf may sag this part of its span, %"),
        kind="percent",
        scale=Fraction(1, 100),
    ),
)


def limits_of(user: User) -> ShopLimits:
    """Return the limits of somebody's shop; the usual ones where none were set."""
    shop = Shop.objects.filter(owner=user).first()
    return read_limits(shop.limits) if shop else USUAL


def read_limits(typed: Mapping[str, Any]) -> ShopLimits:
    """Return the limits typed; what is left empty is the usual one.

    Raises `EngineError` for a length that can't be read or a limit without sense.
    """
    given: dict[str, Any] = {
        field.name: Limit(value=_value(field, typed[field.name]))
        for field in FIELDS
        if typed.get(field.name)
    }
    given |= {name: _machine(name, typed) for name in MACHINES}
    return ShopLimits(**given)


def _value(field: Field, text: str) -> Fraction:
    if field.kind == "length":
        return read_length(text, field=str(field.label)).mm
    return Fraction(text) * field.scale


def _machine(name: str, typed: Mapping[str, Any]) -> Machine | None:
    usual: Machine = getattr(USUAL, name)
    if typed.get(f"{name}_missing"):
        return None
    given: dict[str, Any] = {
        side: Limit(value=read_length(text, field=usual.name).mm)
        for side in SIDES
        if (text := typed.get(f"{name}_{side}"))
    }
    return replace(usual, **given)


@dataclass(frozen=True, kw_only=True)
class Line:
    """One field of the form with its words, the usual limit and where that is from."""

    bound: BoundField
    label: str
    usual: str
    source: str


@dataclass(frozen=True, kw_only=True)
class Group:
    """The fields of one machine, or those of the rest (`missing` is None then)."""

    title: str
    missing: BoundField | None
    lines: tuple[Line, ...]


def groups(form: Form) -> tuple[Group, ...]:
    """Return the form's fields as a page shows them, with the usual limits."""
    sides = (_("Shortest part"), _("Narrowest part"), _("Thinnest part"))
    machines = tuple(
        Group(
            title=str(_TITLES[name]),
            missing=form[f"{name}_missing"],
            lines=tuple(
                _line(
                    form[f"{name}_{side}"], label, getattr(getattr(USUAL, name), side)
                )
                for side, label in zip(SIDES, sides, strict=True)
            ),
        )
        for name in MACHINES
    )
    rest = tuple(
        _line(form[field.name], field.label, getattr(USUAL, field.name), field)
        for field in FIELDS
    )
    return (*machines, Group(title=str(_("Wood and joints")), missing=None, lines=rest))


def _line(
    bound: BoundField,
    label: Promise,
    usual: Limit | None,
    field: Field | None = None,
) -> Line:
    return Line(
        bound=bound,
        label=str(label),
        usual=_usual_text(usual, field),
        source=usual.source if usual else "",
    )


def _usual_text(limit: Limit | None, field: Field | None) -> str:
    """Return what the usual limit is, for the form to show beside an empty field."""
    if limit is None:
        return ""
    if field is None or field.kind == "length":
        return exact_text(limit.value, unit="in")
    return f"{float(limit.value / field.scale):.3g}"
