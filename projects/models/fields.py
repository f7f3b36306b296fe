"""A database field for exact numbers."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from django.db import models


class FractionField(models.CharField[Any, Any]):
    """Keep an exact `Fraction` as text, such as `47117/2500`."""

    _pyi_private_set_type: Any
    _pyi_private_get_type: Any

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs["max_length"] = 200
        super().__init__(*args, **kwargs)

    def deconstruct(self) -> tuple[str, str, Any, Any]:
        """Describe the field to a migration."""
        name, path, args, kwargs = super().deconstruct()
        del kwargs["max_length"]
        return name, path, args, kwargs

    def from_db_value(self, value: str | None, *_args: Any) -> Fraction | None:
        """Return the number a row holds."""
        return None if value is None else Fraction(value)

    def to_python(self, value: Any) -> Fraction | None:
        """Return any accepted value as the number it is."""
        return None if value is None else Fraction(value)

    def get_prep_value(self, value: Any) -> str | None:
        """Return what is written into a row."""
        return None if value is None else str(Fraction(value))
