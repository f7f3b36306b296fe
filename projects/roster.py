"""A typed or pasted roster: one student a line."""

from __future__ import annotations

import re
import secrets
import unicodedata
from collections.abc import Collection

MOST_STUDENTS = 60
LONGEST_NAME = 80

_JOINERS = "\u200c\u200d"
_TURNS = dict.fromkeys(
    (0x061C, 0x200E, 0x200F, *range(0x202A, 0x202F), *range(0x2066, 0x206A))
)
# no i, l, o, 0 or 1: nothing that is misread on a printed slip
_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"


def read_roster(text: str) -> list[str]:
    """Return the names in `text`, in order.

    Empty lines, numbers before a name and what follows a tab are left out.
    """
    # marks that turn the direction of text say nothing, and could hide a name
    plain = text.translate(_TURNS)
    # lists are pasted with numbers in front and further columns behind
    firsts = (line.strip().partition("\t")[0] for line in plain.splitlines())
    names = (" ".join(re.sub(r"^[0-9]+[.)]?\s+", "", line).split()) for line in firsts)
    return [name for name in names if name]


def is_printable(name: str) -> bool:
    """Tell whether a name holds nothing but signs that people write.

    The joiners that some scripts need are such signs, though they show nothing.
    """
    return all(sign in _JOINERS or sign.isprintable() for sign in name)


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
