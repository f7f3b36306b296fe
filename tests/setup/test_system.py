"""What is asked of the system, without asking this one for anything."""

import shutil

import pytest

from shopclass.setup import system


@pytest.fixture
def commands(monkeypatch):
    """Catch the commands that would be run; each of them works."""
    caught: list[list[str]] = []

    def run_quietly(command):
        caught.append(list(command))
        return True

    monkeypatch.setattr(system, "run_quietly", run_quietly)
    monkeypatch.setattr(system, "has_package_lists", lambda: True)
    return caught


@pytest.fixture
def debian_root(monkeypatch):
    """Be root on Debian, with nothing installed that set-up looks for."""
    only_apt = {"apt-get": "/usr/bin/apt-get"}
    monkeypatch.setattr(shutil, "which", only_apt.get)
    monkeypatch.setattr(system, "BROWSERS", ())
    monkeypatch.setattr(system, "is_root", lambda: True)
    monkeypatch.setattr(system, "is_debian", lambda: True)
    monkeypatch.setattr(system, "can_print", lambda: False)
    monkeypatch.setattr(system, "can_drive", lambda: False)


@pytest.fixture
def debian_person(debian_root, monkeypatch):
    """Be anyone else on Debian."""
    monkeypatch.setattr(system, "is_root", lambda: False)


class TestPrepare:
    def test_root_gets_what_a_test_needs(self, debian_root, commands):
        system.prepare("test")

        names = [word for command in commands for word in command[4:]]
        assert names == [*system.PRINT_PACKAGES, "libatomic1", "chromium"]

    def test_the_demo_needs_no_browser(self, debian_root, commands):
        system.prepare("demo")

        assert [command[-1] for command in commands] == [system.PRINT_PACKAGES[-1]]

    @pytest.mark.parametrize("command", ["sizes", "check", "migrate"])
    def test_other_commands_need_nothing(self, debian_root, commands, command):
        system.prepare(command)

        assert commands == []

    def test_anyone_else_gets_the_exact_command(self, debian_person, commands, capsys):
        system.prepare("demo")

        said = capsys.readouterr()
        assert commands == []
        assert said.out == ""
        assert said.err.endswith(
            "run: sudo apt-get update && sudo apt-get install "
            "libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0\n"
        )
        assert said.err.count("\n") == 1

    def test_without_apt_playwright_brings_the_browser(self, debian_person, commands):
        system.prepare("test")

        assert [command[-3:] for command in commands] == [
            ["playwright", "install", "chromium"]
        ]


class TestAptInstall:
    def test_old_lists_are_renewed(self, debian_root, monkeypatch):
        commands = []

        def run_quietly(command):
            commands.append(command[1])
            return "update" in commands

        monkeypatch.setattr(system, "run_quietly", run_quietly)
        monkeypatch.setattr(system, "has_package_lists", lambda: True)

        assert system.apt_install(["chromium"])
        assert commands == ["install", "update", "install"]

    def test_missing_lists_are_fetched_first(self, debian_root, commands, monkeypatch):
        monkeypatch.setattr(system, "has_package_lists", lambda: False)

        assert system.apt_install(["chromium"])
        assert [command[1] for command in commands] == ["update", "install"]


def test_a_library_that_is_not_there_is_not_loadable():
    assert not system.is_loadable("libnobody-has-this.so.0")
