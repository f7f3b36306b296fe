"""The engine's errors in the reader's language."""

from __future__ import annotations

from django.utils.translation import gettext

from projects.engine.errors import EngineError, ProblemsError


def lines(error: EngineError) -> list[str]:
    """Return what an error says, a line for each thing that is wrong."""
    if isinstance(error, ProblemsError):
        return [line for part in error.errors for line in lines(part)]
    values = {
        # a reason is a sentence of its own; all else is a name, a number or was typed
        name: gettext(value) if name == "why" and isinstance(value, str) else value
        for name, value in error.values.items()
    }
    message = gettext(error.message)
    return [message.format(**values) if values else message]


def words(error: EngineError) -> str:
    """Return what an error says in one text."""
    return " ".join(lines(error))
