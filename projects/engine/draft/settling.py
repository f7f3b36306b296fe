"""What one value, one list and one order become when two people changed them."""

from __future__ import annotations

import json
from typing import Any

from projects.engine.draft.differences import items


def settled(base: Any, mine: Any, theirs: Any) -> tuple[bool, Any]:
    """Return whether at most one side changed something, and what it is then."""
    if mine in (base, theirs):
        return True, theirs
    return theirs == base, mine


def is_texts(value: Any) -> bool:
    """Say whether a field holds a list of texts, or nothing."""
    return value is None or (
        isinstance(value, list) and all(isinstance(item, str) for item in value)
    )


def both(base: Any, mine: Any, theirs: Any) -> list[Any]:
    """Return a list with what either added and without what either took out."""
    old, my, their = items(base), items(mine), items(theirs)
    made = {}
    for item in (*base, *theirs, *mine) if isinstance(base, list) else (*theirs, *mine):
        text = json.dumps(item, sort_keys=True)
        if text in old and not (text in my and text in their):
            continue
        made[text] = item
    return list(made.values())


def order(base: list[str], mine: list[str], theirs: list[str]) -> list[str]:
    """Return every entry in the order of theirs, or of mine where only mine moved."""
    first, second = theirs, mine
    if _moved(base, mine) and not _moved(base, theirs):
        first, second = mine, theirs
    made = list(first)
    for place, identity in enumerate(second):
        if identity not in made:
            before = [i for i in second[:place] if i in made]
            if not any(i in made for i in second[place:]):
                made.append(identity)
            else:
                made.insert(made.index(before[-1]) + 1 if before else 0, identity)
    return made + [identity for identity in base if identity not in made]


def _moved(base: list[str], other: list[str]) -> bool:
    """Say whether what stands in both stands in another order."""
    return [i for i in base if i in other] != [i for i in other if i in base]
