"""Run the benchmarks of tests/bench."""

import json
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from tests.bench import registry


class Command(BaseCommand):
    """Ends with status 1 if a figure does not hold."""

    help = "Runs benchmarks: name, figure, limit, holds or not."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "names", nargs="*", metavar="NAME", help="full names or their beginnings"
        )
        parser.add_argument("--json", action="store_true", help="print a JSON list")

    def handle(self, *args: Any, names: list[str], json: bool, **options: Any) -> None:
        try:
            chosen = registry.choose(registry.load(), names)
        except LookupError as error:
            raise SystemExit(str(error)) from None
        results = []
        for result in registry.run(chosen):
            results.append(result)
            if not json:
                self.stdout.write(as_line(result))
                self.stdout.flush()
        if json:
            self.stdout.write(as_json(results))
        if not all(result.holds for result in results):
            raise SystemExit(1)


def as_line(result: registry.Result) -> str:
    """Write a result for a person."""
    benchmark = result.benchmark
    bound = "at least" if benchmark.at_least else "at most"
    holds = "holds" if result.holds else "DOES NOT HOLD"
    figure = (
        f"{result.figure:,.4g}" if result.figure < 1000 else f"{result.figure:,.0f}"
    )
    return f"{benchmark.name:<20} {figure:>12}   {bound} {benchmark.limit:,g}   {holds}"


def as_json(results: list[registry.Result]) -> str:
    """Write the results for a program."""
    return json.dumps(
        [
            {
                "name": result.benchmark.name,
                "figure": result.figure,
                "limit": result.benchmark.limit,
                "holds": result.holds,
                "how": result.benchmark.how,
            }
            for result in results
        ],
        indent=2,
    )
