"""How far a straight beam of wood bends under a load."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Literal

from projects.engine.wood.number import Number, WoodError, need_above_zero
from projects.engine.wood.table import cited, read_table

Loading = Literal[
    "uniform", "point at midspan", "points at quarter spans", "point at free end"
]
Support = Literal["simple", "clamped", "cantilever"]
At = Literal["midspan", "load point", "free end"]


@dataclass(frozen=True, kw_only=True)
class LoadCase:
    """Hold the constants of one row: how a beam is loaded, held and looked at.

    `k_bending` and `k_shear` [-] are those of Eq. 9-2; the load is the whole load.
    """

    loading: Loading
    support: Support
    at: At
    k_bending: Fraction
    k_shear: Fraction
    source: str


def load_case(
    *, loading: Loading = "uniform", support: Support = "simple", at: At = "midspan"
) -> LoadCase:
    """Return the constants for a loading, a support and a place on the beam.

    Raises
    ------
    WoodError
        Where the table has no such row.

    Examples
    --------
    >>> load_case().k_bending, load_case(support="clamped").k_bending
    (Fraction(5, 384), Fraction(1, 384))

    Notes
    -----
    **Source**: Wood Handbook, FPL-GTR-282 (2021), chapter 9, Table 9-1, p. 9-3.
    """
    for case in load_cases():
        if (case.loading, case.support, case.at) == (loading, support, at):
            return case
    raise WoodError(
        "no constants for a {support} beam, load {loading}, looked at {at}",
        support=support,
        loading=loading,
        at=at,
    )


@cache
def load_cases() -> tuple[LoadCase, ...]:
    """Return every row of the table of constants."""
    return tuple(
        LoadCase(
            loading=row["loading"],  # type: ignore[arg-type] # a file knows no literals
            support=row["support"],  # type: ignore[arg-type]
            at=row["at"],  # type: ignore[arg-type]
            k_bending=Fraction(row["k_bending"]),
            k_shear=Fraction(row["k_shear"]),
            source=cited(row),
        )
        for row in read_table("beams")
    )


def bending_deflection_mm(
    *,
    load_n: Number,
    span_mm: Number,
    moe_mpa: Number,
    inertia_mm4: Number,
    case: LoadCase | None = None,
) -> Number:
    """Return how far a beam bends [mm]: the first term of Eq. 9-2.

    The moduli in the Wood Handbook's tables already hold some shear; for a beam
    longer than 14 times its depth nothing needs adding.

    Parameters
    ----------
    load_n : Fraction or float
        The whole load [N], above 0.
    span_mm : Fraction or float
        The span between supports, or the free length [mm], above 0.
    moe_mpa : Fraction or float
        The modulus of elasticity along the beam [MPa], above 0.
    inertia_mm4 : Fraction or float
        The second moment of area [mm⁴], above 0.
    case : LoadCase, optional
        How it is loaded and held: a uniform load on two simple supports unless given.

    Raises
    ------
    WoodError
        For a value not above 0.

    Examples
    --------
    >>> round(bending_deflection_mm(load_n=6 * 5000.0, span_mm=5000.0,
    ...     moe_mpa=200_000.0, inertia_mm4=81_960_000.0), 2)
    2.98

    Notes
    -----
    **Source**: Wood Handbook, FPL-GTR-282 (2021), chapter 9, Eq. 9-2, Table 9-1. That
    the tables' moduli hold shear at a span of 14 depths: from memory, a note to
    Table 5-3a.
    """
    need_above_zero("load_n", load_n, unit="N")
    need_above_zero("span_mm", span_mm, unit="mm")
    need_above_zero("moe_mpa", moe_mpa, unit="MPa")
    need_above_zero("inertia_mm4", inertia_mm4, unit="mm⁴")
    k = (case or load_case()).k_bending
    return k * load_n * span_mm * span_mm * span_mm / (moe_mpa * inertia_mm4)


def shear_deflection_mm(
    *,
    load_n: Number,
    span_mm: Number,
    shear_modulus_mpa: Number,
    shear_area_mm2: Number,
    case: LoadCase | None = None,
) -> Number:
    """Return how far a beam gives in shear [mm]: the second term of Eq. 9-2.

    Parameters
    ----------
    load_n : Fraction or float
        The whole load [N], above 0.
    span_mm : Fraction or float
        The span between supports, or the free length [mm], above 0.
    shear_modulus_mpa : Fraction or float
        The shear modulus [MPa], above 0.
    shear_area_mm2 : Fraction or float
        The area that takes the shear [mm²], above 0.
    case : LoadCase, optional
        How it is loaded and held: a uniform load on two simple supports unless given.

    Raises
    ------
    WoodError
        For a value not above 0.

    Examples
    --------
    >>> shear_deflection_mm(
    ...     load_n=400, span_mm=1000, shear_modulus_mpa=700, shear_area_mm2=5000)
    Fraction(1, 70)

    Notes
    -----
    **Source**: Wood Handbook, FPL-GTR-282 (2021), chapter 9, Eq. 9-2, Table 9-1.
    """
    need_above_zero("load_n", load_n, unit="N")
    need_above_zero("span_mm", span_mm, unit="mm")
    need_above_zero("shear_modulus_mpa", shear_modulus_mpa, unit="MPa")
    need_above_zero("shear_area_mm2", shear_area_mm2, unit="mm²")
    k = (case or load_case()).k_shear
    return k * load_n * span_mm / (shear_modulus_mpa * shear_area_mm2)


def rectangle_inertia_mm4(*, width_mm: Number, depth_mm: Number) -> Number:
    """Return the second moment of area [mm⁴] of a rectangle bent across its depth.

    Parameters
    ----------
    width_mm, depth_mm : Fraction or float
        Its size across the load and along it [mm], each above 0.

    Raises
    ------
    WoodError
        For a size not above 0.

    Examples
    --------
    >>> rectangle_inertia_mm4(width_mm=Fraction(12), depth_mm=Fraction(2))
    Fraction(8, 1)

    Notes
    -----
    **Source**: Wood Handbook, FPL-GTR-282 (2021), chapter 9: width × depth³ / 12.
    """
    need_above_zero("width_mm", width_mm, unit="mm")
    need_above_zero("depth_mm", depth_mm, unit="mm")
    return width_mm * depth_mm * depth_mm * depth_mm / 12


def rectangle_shear_area_mm2(*, width_mm: Number, depth_mm: Number) -> Number:
    """Return the area [mm²] of a rectangle that takes the shear.

    Parameters
    ----------
    width_mm, depth_mm : Fraction or float
        Its size across the load and along it [mm], each above 0.

    Raises
    ------
    WoodError
        For a size not above 0.

    Examples
    --------
    >>> rectangle_shear_area_mm2(width_mm=Fraction(12), depth_mm=Fraction(2))
    Fraction(20, 1)

    Notes
    -----
    **Source**: Wood Handbook, FPL-GTR-282 (2021), chapter 9: 5/6 × width × depth.
    """
    need_above_zero("width_mm", width_mm, unit="mm")
    need_above_zero("depth_mm", depth_mm, unit="mm")
    return Fraction(5, 6) * width_mm * depth_mm
