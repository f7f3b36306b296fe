"""Wood as a material: how it moves, what it dries to, how far it bends.

- ``number``    plain numbers with limits, and the error for what lies outside
- ``table``     the tables in ``engine/data``, each row with its source and status
- ``species``   a species by what people call it
- ``movement``  how much wider a board gets
- ``moisture``  what moisture wood takes on in a room
- ``beams``     how far a shelf bends

Formulas take exact fractions or floats and answer in kind.
"""

from projects.engine.wood.beams import (
    bending_deflection_mm,
    load_case,
    rectangle_inertia_mm4,
    rectangle_shear_area_mm2,
    shear_deflection_mm,
)
from projects.engine.wood.moisture import equilibrium_moisture_pct
from projects.engine.wood.movement import dimensional_change_mm
from projects.engine.wood.number import WoodError
from projects.engine.wood.species import Species, find_species

__all__ = [
    "Species",
    "WoodError",
    "bending_deflection_mm",
    "dimensional_change_mm",
    "equilibrium_moisture_pct",
    "find_species",
    "load_case",
    "rectangle_inertia_mm4",
    "rectangle_shear_area_mm2",
    "shear_deflection_mm",
]
