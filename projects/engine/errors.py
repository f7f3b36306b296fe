"""One base class for everything a person can put right."""

from __future__ import annotations

from collections.abc import Iterable


class EngineError(ValueError):
    """Say in the user's words what was wrong, where, and what was read.

    `message` is a `str.format` template and `values` fill it, so that a caller
    who translates can look the template up before filling it.
    """

    def __init__(self, message: str, **values: object) -> None:
        self.message = message
        self.values = values
        super().__init__(message.format(**values) if values else message)


class LengthError(EngineError):
    """Tell that a length can't be read or lies outside what is allowed."""


class PlanError(EngineError):
    """Tell that a plan can't be read, contradicts itself or leaves a size open."""


class ReadingError(EngineError):
    """Tell that a readings file names or holds something that can't be used."""


MOST_TOLD = 50
"""How many errors are told at once; nobody reads more, and a hostile file has many."""


class ProblemsError(EngineError):
    """Carry several errors found in one go: all in `every`, those told in `errors`.

    Told are at most 50 and a count, one line each.
    """

    def __init__(self, errors: Iterable[EngineError]) -> None:
        self.every = tuple(single for error in errors for single in _singles(error))
        self.errors = self.every[:MOST_TOLD]
        if len(self.every) > MOST_TOLD:
            more = EngineError("… and {n} more", n=len(self.every) - MOST_TOLD)
            self.errors = (*self.errors, more)
        super().__init__("{lines}", lines="\n".join(map(str, self.errors)))


def _singles(error: EngineError) -> tuple[EngineError, ...]:
    return error.every if isinstance(error, ProblemsError) else (error,)


def raise_all(errors: list[EngineError]) -> None:
    """Raise what was found: the one error as it is, several as `ProblemsError`."""
    if len(errors) == 1:
        raise errors[0]
    if errors:
        raise ProblemsError(errors)
