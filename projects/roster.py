"""What stands on a roster: names, the codes of join cards, PINs."""

from __future__ import annotations

import re
import secrets
import unicodedata
from collections.abc import Collection
from itertools import pairwise

MOST_STUDENTS = 60
LONGEST_NAME = 80
CODE_LENGTH = 8

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


def new_code(taken: Collection[str]) -> str:
    """Return the random code of a join card, not in `taken`: 31 ** 8 are possible."""
    while True:
        code = "".join(secrets.choice(_LETTERS) for _ in range(CODE_LENGTH))
        if code not in taken:
            return code


def read_code(text: str) -> str:
    """Return a code as it is kept, from what somebody typed: `KM7P-x3qe `.

    What is no such code comes back in lower case, without spaces around it.
    """
    plain = text.strip().lower()
    # a phone may make a longer dash of a hyphen
    joined = re.sub(r"[\s\u2010-\u2015-]+", "", plain)
    return joined if is_code(joined) else plain


def shown_code(code: str) -> str:
    """Return a code in two groups, as it is printed; other sign-in names stay."""
    return f"{code[:4]}-{code[4:]}" if is_code(code) else code


def is_code(text: str) -> bool:
    """Tell whether a sign-in name is a join card's code, as it is kept."""
    return len(text) == CODE_LENGTH and set(text) <= set(_LETTERS)


def same_name(name: str) -> str:
    """Return what two names share that nobody could tell apart on a list."""
    return unicodedata.normalize("NFKC", name).casefold()


def is_easy_pin(pin: str) -> bool:
    """Tell whether a PIN is what everybody tries first: 1111, 1234 or 4321."""
    steps = {ord(b) - ord(a) for a, b in pairwise(pin)}
    return len(steps) <= 1 and steps <= {-1, 0, 1}
