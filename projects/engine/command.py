"""The `sizes` command: a plan file, and perhaps readings, to a build's sizes.

It needs neither Django nor a database, so `manage.py` calls it as it is.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
from pathlib import Path

from projects.engine.errors import EngineError, PlanError
from projects.engine.fit.solve import check_plan, solve
from projects.engine.plan.json_text import MAX_BYTES
from projects.engine.plan.reader import read_plan
from projects.engine.plan.readings import read_readings
from projects.engine.report import as_data, as_text


def main(arguments: list[str]) -> int:
    """Print the sizes of a build; return the exit status [-]: 0 solved, 1 not.

    Errors go to standard error, one line each, and then nothing goes to standard
    output.
    """
    parser = argparse.ArgumentParser(
        prog="manage.py sizes", description="Print the sizes of a plan's parts."
    )
    parser.add_argument("plan", metavar="PLAN.json")
    parser.add_argument("--readings", metavar="READINGS.json")
    parser.add_argument("--json", action="store_true", help="print the result as JSON")
    options = parser.parse_args(arguments)
    try:
        plan = read_plan(_read_file(options.plan))
        solution = check_plan(plan)
        if options.readings:
            readings = read_readings(_read_file(options.readings), plan)
            solution = solve(plan, readings)
    except EngineError as error:
        print(error, file=sys.stderr)  # noqa: T201 - a command prints
        return 1
    if options.json:
        # a name may hold letters that the terminal has none of
        text = json.dumps(as_data(solution), indent=2, ensure_ascii=not _is_utf8())
    else:
        text = as_text(solution)
    _print(text)
    return 0


def _print(text: str) -> None:
    try:
        print(text, flush=True)  # noqa: T201 - a command prints
    except BrokenPipeError:
        # a reader such as `head` has seen enough; Python would complain at its end
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _is_utf8() -> bool:
    return (sys.stdout.encoding or "").lower().replace("-", "") == "utf8"


def _read_file(name: str) -> bytes:
    try:
        with Path(name).open("rb") as file:
            # one byte more than is read at all, so that a huge file is told as such
            return file.read(MAX_BYTES + 1)
    except OSError as error:
        raise PlanError(
            "{name}: {why}", name=name, why=error.strerror or error
        ) from error
