"""What is written down of a shop's machine, as the engine takes it."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from projects.engine.errors import EngineError
from projects.engine.shop.equipment import read_equipment
from projects.models import Machine


def machine_has(machine: Machine) -> Mapping[str, tuple[Fraction, ...]]:
    """Return what is written down of a machine [mm]; nothing where it can't be read.

    The machine's own page tells what is wrong with its figures.
    """
    try:
        return read_equipment(machine.kind, machine.limits)
    except EngineError:
        return {}
