"""Read the tables in `engine/data`: CSV files with a source beside every row."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

DATA = Path(__file__).parent.parent / "data"


@cache
def read_table(name: str) -> tuple[dict[str, str], ...]:
    """Return the rows of a table, such as `movement`, by the names of its columns."""
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


def cited(row: dict[str, str]) -> str:
    """Return where a row comes from and how sure that is, in one line."""
    return f"{row['source']} ({row['status']})"
