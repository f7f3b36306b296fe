"""`.venv`, made from nothing: stamp, messages, recovery. All without a network."""

import importlib.util
import json
import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from shopclass.setup import environment, system
from shopclass.setup.console import SetupError

ROOT = Path(__file__).parents[2]
PROJECT = """
[project]
dependencies = [{base}]
[project.optional-dependencies]
test = ["pytest==1"]
postgres = ["psycopg==1"]
"""


@pytest.fixture
def place(tmp_path):
    """A checkout whose `.venv` only looks like one."""
    (tmp_path / "pyproject.toml").write_text(PROJECT.format(base='"Django==1"'))
    place = environment.Place(root=tmp_path)
    place.python.parent.mkdir(parents=True)
    place.python.touch()
    return place


def wanted(place, *groups):
    return environment.requirements(place.root, groups)


class TestGroupsFor:
    def test_most_commands_need_the_base(self):
        assert environment.groups_for("sizes", {}) == ["base"]

    @pytest.mark.parametrize("command", ["test", "bench"])
    def test_checks_need_their_tools(self, command):
        assert environment.groups_for(command, {}) == ["base", "test"]

    def test_postgresql_needs_its_driver(self):
        groups = environment.groups_for("serve", {"DATABASE_URL": "postgres://x/y"})

        assert groups == ["base", "postgres"]


class TestStamp:
    def test_without_one_everything_is_stale(self, place):
        stamp = environment.read_stamp(place)

        assert environment.stale_groups(stamp, wanted(place, "base")) == ["base"]

    def test_what_was_installed_is_not_stale(self, place):
        base = wanted(place, "base")
        environment.write_stamp(place, {"base": environment.digest(base["base"])})
        stamp = environment.read_stamp(place)

        assert environment.stale_groups(stamp, base) == []
        assert environment.stale_groups(stamp, wanted(place, "test")) == ["test"]

    def test_a_changed_pin_is_stale(self, place):
        base = wanted(place, "base")
        environment.write_stamp(place, {"base": environment.digest(base["base"])})
        (place.root / "pyproject.toml").write_text(PROJECT.format(base='"Django==2"'))
        stamp = environment.read_stamp(place)

        assert environment.stale_groups(stamp, wanted(place, "base")) == ["base"]

    def test_one_cut_short_counts_for_nothing(self, place):
        place.stamp.write_text('{"base": "12')

        assert environment.read_stamp(place) == {}

    def test_one_without_its_python_counts_for_nothing(self, place):
        environment.write_stamp(place, {"base": "x"})
        place.python.unlink()

        assert environment.read_stamp(place) == {}

    def test_one_of_an_older_python_counts_for_nothing(self, place, monkeypatch):
        environment.write_stamp(place, {"python": "3.1", "base": "x"})
        monkeypatch.setattr(sys, "prefix", str(place.venv))

        assert environment.read_stamp(place) == {}


class TestMakeVenv:
    def test_a_missing_part_of_python_is_named_with_its_command(
        self, place, monkeypatch
    ):
        monkeypatch.setattr(importlib.util, "find_spec", lambda _name: None)
        monkeypatch.setattr(system, "is_root", lambda: False)
        monkeypatch.setattr(shutil, "which", lambda name: f"/usr/bin/{name}")

        with pytest.raises(SetupError, match=r"sudo apt-get .* python3\.\d+-venv$"):
            environment.make_venv(place)


class TestPipTrouble:
    def test_no_network_is_said_plainly(self, tmp_path):
        log = tmp_path / "log"
        log.write_text(
            "WARNING: Retrying after connection broken by 'NewConnectionError(...)'\n"
            "ERROR: Could not find a version that satisfies the requirement Django\n"
        )

        assert "cannot be reached" in environment.pip_trouble(log)

    def test_any_other_error_is_quoted(self, tmp_path):
        log = tmp_path / "log"
        log.write_text("Collecting x\nERROR: No space left on device\n")

        assert ": No space left on device (all of it: " in environment.pip_trouble(log)


def write_wheel(folder: Path) -> str:
    """Make the smallest package there is; return the line that asks for it."""
    wheel = folder / "tinypart-1-py3-none-any.whl"
    info = "tinypart-1.dist-info"
    with zipfile.ZipFile(wheel, "w") as archive:
        archive.writestr("tinypart.py", "WHERE = __file__\n")
        archive.writestr(
            f"{info}/METADATA", "Metadata-Version: 2.1\nName: tinypart\nVersion: 1\n"
        )
        archive.writestr(
            f"{info}/WHEEL",
            "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
        )
        archive.writestr(f"{info}/RECORD", "")
    return f"tinypart @ {wheel.as_uri()}"


def start(root: Path) -> subprocess.CompletedProcess[str]:
    """Run set-up as manage.py would, with the system's Python and no package index."""
    code = (
        "import sys; from shopclass import setup; setup.make_ready(['manage.py', 'x']);"
        "import tinypart; print(tinypart.WHERE)"
    )
    kept = {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
    nowhere = {"PIP_INDEX_URL": "http://127.0.0.1:9/", "PIP_CONFIG_FILE": os.devnull}
    return subprocess.run(
        [getattr(sys, "_base_executable", sys.executable), "-c", code],
        cwd=root,
        env={**kept, **nowhere},
        capture_output=True,
        text=True,
        check=False,
    )


class TestFromNothing:
    """A real `.venv` and a real pip, with one tiny package of our own on the disk.

    What it does not show: that the pinned packages can be had and fit together. The
    run of this very test suite shows that.
    """

    @pytest.fixture
    def root(self, tmp_path):
        shutil.copytree(ROOT / "shopclass" / "setup", tmp_path / "shopclass" / "setup")
        line = json.dumps(write_wheel(tmp_path))
        (tmp_path / "pyproject.toml").write_text(PROJECT.format(base=line))
        return tmp_path

    def test_the_first_start_installs_and_the_second_is_silent(self, root):
        first = start(root)
        second = start(root)
        (root / ".venv" / "set-up.json").unlink()  # as if the first was cut short
        third = start(root)

        assert first.stdout.startswith(str(root / ".venv")), first.stderr
        assert "Set-up: installing 1 Python packages" in first.stderr
        assert (second.stdout, second.stderr) == (first.stdout, "")
        assert third.stdout == first.stdout
        assert "Set-up: making .venv" in third.stderr

    def test_without_a_network_one_line_says_so(self, root):
        (root / "pyproject.toml").write_text(PROJECT.format(base='"tinypart==1"'))

        done = start(root)

        assert done.returncode == 1
        assert done.stdout == ""
        assert "Traceback" not in done.stderr
        assert "connect to the network" in done.stderr.splitlines()[-1]
