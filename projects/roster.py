"""A typed or pasted roster: one student a line."""

from __future__ import annotations

import re
import secrets
import unicodedata
from collections.abc import Collection

MOST_STUDENTS = 60
LONGEST_NAME = 80

# no i, l, o, 0 or 1: nothing that is misread on a printed slip
_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"


def read_roster(text: str) -> list[str]:
    """Return the names in `text`, in order, tidied; empty lines are left out."""
    names = (" ".join(line.split()) for line in text.splitlines())
    return [name for name in names if name]


def sign_in_name(name: str, taken: Collection[str]) -> str:
    """Return a name to sign in with, made from a person's name and not in `taken`."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    stem = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:30] or "student"
    made, number = stem, 2
    while made in taken:
        made, number = f"{stem}-{number}", number + 1
    return made


def first_password() -> str:
    """Return a random first password that is easy to type on a phone."""
    groups = ("".join(secrets.choice(_LETTERS) for _ in range(4)) for _ in range(3))
    return "-".join(groups)
