"""Names put into sentences, short enough for a title, and keys kept apart."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from projects.engine.plan.fields import MAX_KEY, MAX_NAME
from projects.engine.plan.records import Part, Plan

MOST_NAMES = 8


def in_a_row(names: Sequence[str]) -> str:
    """Return names as one would say them: `seat, shelf and back`."""
    if len(names) > MOST_NAMES:
        kept = names[: MOST_NAMES - 1]
        names = [*kept, f"{len(names) - len(kept)} more"]
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def in_text(name: str) -> str:
    """Return a name as it stands within a sentence: `Left side` as `left side`."""
    if name[1:2].islower():
        return name[0].lower() + name[1:]
    return name


def part_names(plan: Plan, keys: Iterable[str]) -> str:
    """Return the names of parts in a row, the two of a pair as one."""
    wanted = list(dict.fromkeys(keys))
    said: list[str] = []
    done: set[str] = set()
    for key in wanted:
        part = plan.part_by_key[key]
        if key in done:
            continue
        done.add(key)
        name = in_text(part.name)
        if part.pair in wanted:
            done.add(part.pair)
            name = _both(name, in_text(plan.part_by_key[part.pair].name))
        said.append(name)
    return in_a_row(said)


def stock_names(plan: Plan, keys: Iterable[str]) -> str:
    """Return the names of stock in a row."""
    return in_a_row([in_text(plan.stock_by_key[key].name) for key in keys])


def has_pair(plan: Plan, keys: Sequence[str]) -> bool:
    """Return whether both parts of a mirrored pair are among `keys`."""
    parts: list[Part] = [plan.part_by_key[key] for key in keys]
    return any(part.pair in keys for part in parts)


def fitting(*titles: str) -> str:
    """Return the first title that a plan file takes; the last must."""
    return next((t for t in titles if len(t) <= MAX_NAME), titles[-1])


def free_key(wanted: str, taken: Iterable[str]) -> str:
    """Return `wanted`, cut to what a key may be, or that with a number behind it."""
    key, n = wanted[:MAX_KEY], 1
    used = set(taken)
    while key in used:
        n += 1
        key = f"{wanted[: MAX_KEY - 5]}_{n}"
    return key


def _both(one: str, other: str) -> str:
    """Return `left and right side` for `left side` and `right side`."""
    words, others = one.split(), other.split()
    differ = [
        n
        for n, pair in enumerate(zip(words, others, strict=False))
        if pair[0] != pair[1]
    ]
    if len(words) != len(others) or len(differ) != 1 or len(words) < 2:
        return f"{one} and {other}"
    at = differ[0]
    return " ".join([*words[:at], f"{words[at]} and {others[at]}", *words[at + 1 :]])
