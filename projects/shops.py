"""A shop's limits: from what an instructor typed to what the checks take."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, Literal

from django.forms import BoundField, Form
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from projects.engine.checks import Limit, ShopLimits
from projects.engine.checks import Machine as MachineLimits
from projects.engine.checks.limits import IN, N_PER_POUND
from projects.engine.units import exact_text, read_length
from projects.models import Machine, Shop, User

LIMITED = ("planer", "jointer", "table_saw")
"""The kinds of machine whose smallest part the checks know."""
SIDES = {
    "shortest": "shortest_mm",
    "narrowest": "narrowest_mm",
    "thinnest": "thinnest_mm",
}
"""From the key of what is typed of a machine to the checks' name of it."""
USUAL = ShopLimits()
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
    """Return the limits of somebody's shop and its machines; costs two queries.

    The usual limits where none were set.
    """
    shop = Shop.objects.filter(owner=user).first()
    if shop is None:
        return USUAL
    machines: dict[str, Any] = machine_limits(shop.machines.filter(retired_at=None))
    return replace(read_limits(shop.limits), **machines)


def read_limits(typed: Mapping[str, Any]) -> ShopLimits:
    """Return the limits typed; what is left empty is the usual one.

    Raises `EngineError` for a length that can't be read or a limit without sense.
    """
    given: dict[str, Any] = {
        field.name: Limit(value=_value(field, typed[field.name]))
        for field in FIELDS
        if typed.get(field.name)
    }
    return ShopLimits(**given)


def _value(field: Field, text: str) -> Fraction:
    if field.kind == "length":
        return read_length(text, field=str(field.label)).mm
    return Fraction(text) * field.scale


def machine_limits(machines: Iterable[Machine]) -> dict[str, Any]:
    """Return the smallest part that each kind of machine of a shop takes.

    Of several alike the most generous side counts, since a part can go to either. A
    kind that a shop lacks is None, unless it lists no machine at all.
    """
    listed = list(machines)
    if not listed:
        return {}
    return {kind: _most_generous(kind, listed) for kind in LIMITED}


def _most_generous(kind: str, listed: list[Machine]) -> MachineLimits | None:
    usual: MachineLimits = getattr(USUAL, kind)
    own = [machine.limits for machine in listed if machine.kind == kind]
    if not own:
        return None
    sides: dict[str, Any] = {}
    for key, side in SIDES.items():
        limits = [_limit(typed.get(key, ""), getattr(usual, side)) for typed in own]
        known = [limit for limit in limits if limit is not None]
        # a machine of which nothing is said takes any
        none = len(known) < len(limits)
        sides[side] = None if none else min(known, key=lambda limit: limit.value)
    return replace(usual, **sides)


def _limit(text: str, usual: Limit | None) -> Limit | None:
    return Limit(value=read_length(text).mm) if text else usual


@dataclass(frozen=True, kw_only=True)
class Line:
    """One field of the form with its words, the usual limit and where that is from."""

    bound: BoundField
    label: str
    usual: str
    source: str


def form_lines(form: Form) -> tuple[Line, ...]:
    """Return the form's fields as a page shows them, with the usual limits."""
    return tuple(_line(form[field.name], field) for field in FIELDS)


def _line(bound: BoundField, field: Field) -> Line:
    usual: Limit = getattr(USUAL, field.name)
    text = (
        exact_text(usual.value, unit="in")
        if field.kind == "length"
        else f"{float(usual.value / field.scale):.3g}"
    )
    return Line(bound=bound, label=str(field.label), usual=text, source=usual.source)


def usual_side(kind: str, key: str) -> Limit | None:
    """Return the usual limit of a kind of machine for what is typed under `key`."""
    if kind not in LIMITED or key not in SIDES:
        return None
    limit: Limit | None = getattr(getattr(USUAL, kind), SIDES[key])
    return limit
