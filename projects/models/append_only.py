"""Rows that are written once: followed by newer ones, never changed or deleted."""

from __future__ import annotations

from typing import Any, NoReturn, TypeVar

from django.db import models

M = TypeVar("M", bound=models.Model)


class AppendOnlyError(TypeError):
    """Tell that code tried to change or delete something recorded."""


class AppendOnlyQuerySet(models.QuerySet[M]):
    """Refuse the bulk ways around `AppendOnlyModel`."""

    def update(self, **_kwargs: Any) -> NoReturn:
        """Refuse."""
        raise AppendOnlyError(f"{self.model.__name__} rows are never changed")

    def bulk_update(self, *_args: Any, **_kwargs: Any) -> NoReturn:
        """Refuse."""
        raise AppendOnlyError(f"{self.model.__name__} rows are never changed")

    def delete(self) -> NoReturn:
        """Refuse."""
        raise AppendOnlyError(f"{self.model.__name__} rows are never deleted")


class AppendOnlyModel(models.Model):
    """A row that is saved once. The database refuses changes too (a trigger)."""

    class Meta:
        abstract = True

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Save a new row; refuse to save it again."""
        if not self._state.adding:
            raise AppendOnlyError(f"{type(self).__name__} rows are never changed")
        super().save(*args, **kwargs)

    def delete(self, *_args: Any, **_kwargs: Any) -> NoReturn:
        """Refuse."""
        raise AppendOnlyError(f"{type(self).__name__} rows are never deleted")
