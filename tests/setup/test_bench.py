"""`manage.py bench`: how it chooses, judges and reports."""

import json

import pytest
from django.core.management import call_command

from tests.bench import registry


def benchmark(name, figure, *, limit=5.0, at_least=False):
    return registry.Benchmark(
        name=name,
        measure=lambda: figure,
        limit=limit,
        how="invented",
        at_least=at_least,
        db=False,
    )


@pytest.fixture
def registered(monkeypatch):
    known = [benchmark("fit.class", 2.0), benchmark("sheet.time", 9.0)]
    monkeypatch.setattr(registry, "load", lambda: known)


class TestHolds:
    @pytest.mark.parametrize(
        ("figure", "at_least", "holds"),
        [(5, False, True), (5.1, False, False), (5, True, True), (4.9, True, False)],
    )
    def test_the_limit_itself_holds(self, figure, at_least, holds):
        judged = benchmark("one", figure, at_least=at_least)

        assert registry.Result(benchmark=judged, figure=figure).holds is holds


class TestCommand:
    def test_a_name_or_its_beginning_chooses(self, registered, capsys):
        call_command("bench", "fit")

        assert capsys.readouterr().out.split() == [
            "fit.class", "2", "at", "most", "5", "holds",
        ]  # fmt: skip

    def test_one_that_does_not_hold_ends_with_1(self, registered, capsys):
        with pytest.raises(SystemExit) as stopped:
            call_command("bench")

        assert stopped.value.code == 1
        assert "DOES NOT HOLD" in capsys.readouterr().out

    def test_an_unknown_name_is_one_line(self, registered):
        with pytest.raises(SystemExit) as stopped:
            call_command("bench", "kerf")

        assert stopped.value.code == (
            "no benchmark is called 'kerf'; there are: fit.class, sheet.time"
        )

    def test_json_is_a_list_of_objects(self, registered, capsys):
        call_command("bench", "fit.class", "--json")

        assert json.loads(capsys.readouterr().out) == [
            {
                "name": "fit.class",
                "figure": 2,
                "limit": 5,
                "holds": True,
                "how": "invented",
            }
        ]


class TestRegister:
    def test_two_of_one_name_are_refused(self, monkeypatch):
        monkeypatch.setattr(registry, "_registered", {})
        register = registry.bench("one", limit=1, how="invented")
        register(lambda: 1.0)

        with pytest.raises(ValueError, match="twice"):
            register(lambda: 1.0)


def test_a_ratio_is_taken_in_turn():
    order = []
    figure = registry.ratio(
        lambda: order.append("a"), lambda: order.append("b"), rounds=3
    )

    assert order == list("ababab")
    assert figure > 0
