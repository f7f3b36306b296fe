"""`manage.py sizes`: a plan's sizes without a server and without a database."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from projects.engine.report import as_data
from tests.engine.builds import boot_bench, solved

ROOT = Path(__file__).parent.parent
READINGS = {
    "stock": {"board": ["0.742", "0.744", "0.741"]},
    "parts": {"shelf": {"thickness": ["0.738"]}},
    "distances": {"opening": "34 17/32"},
}


@pytest.fixture
def sizes(tmp_path):
    """Run the command on files named by their content, with no database to reach."""

    def run(
        *arguments: str, encoding: str = "utf-8", **files: object
    ) -> subprocess.CompletedProcess[str]:
        for name, content in files.items():
            text = content if isinstance(content, str) else json.dumps(content)
            (tmp_path / f"{name}.json").write_text(text, "utf-8")
        nowhere = f"sqlite:///{tmp_path}/no/such/folder/site.sqlite3"
        environ = {"SHOPCLASS_ENV": "ready", "DATABASE_URL": nowhere,
                   "DATA_DIR": str(tmp_path / "data")}  # fmt: skip
        return subprocess.run(
            [sys.executable, ROOT / "manage.py", "sizes", *arguments],
            cwd=tmp_path,
            env={**os.environ, **environ, "PYTHONIOENCODING": encoding},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            check=False,
        )

    return run


def test_json_is_the_engines_result(sizes):
    done = sizes("plan.json", "--readings", "readings.json", "--json",
                 plan=boot_bench(), readings=READINGS)  # fmt: skip

    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout) == as_data(solved(boot_bench(), READINGS))


def test_text_without_readings_names_every_part(sizes, tmp_path):
    done = sizes("plan.json", plan=boot_bench())

    assert (done.returncode, done.stderr) == (0, "")
    assert {"left_side", "right_side", "shelf"} <= set(done.stdout.split())
    assert "35 1/4" in done.stdout
    assert not list(tmp_path.rglob("*.sqlite3"))


def test_a_terminal_without_its_letters_gets_the_json_all_the_same(sizes):
    named = boot_bench()
    named["parts"][0]["name"] = "Côté ½"
    ran = sizes("plan.json", "--json", plan=named, encoding="ascii")

    assert (ran.returncode, ran.stderr) == (0, "")
    assert "Côté ½" in str(json.loads(ran.stdout))


def test_every_fault_of_a_plan_is_a_line_on_standard_error(sizes):
    plan = boot_bench()
    plan["joints"][0]["depth"] = "deep"
    plan["joints"][1]["colour"] = "red"
    done = sizes("plan.json", "--json", plan=plan)

    assert (done.returncode, done.stdout) == (1, "")
    lines = done.stderr.splitlines()
    assert len(lines) == 2
    assert "joints[0].depth: " in lines[0]
    assert "joints[1]: unknown field 'colour'" in lines[1]


def test_a_fault_of_the_readings_is_one_line(sizes):
    done = sizes("plan.json", "--readings", "readings.json", "--json",
                 plan=boot_bench(), readings={"cut": {"shelf.left": "3"}})  # fmt: skip

    assert (done.returncode, done.stdout) == (1, "")
    assert len(done.stderr.splitlines()) == 1
    assert "readings.cut: " in done.stderr


def test_a_plan_that_contradicts_itself_is_one_line(sizes):
    plan = boot_bench()
    plan["flush"].append(["shelf.left", "left_side.right"])
    done = sizes("plan.json", plan=plan)

    assert (done.returncode, done.stdout) == (1, "")
    assert len(done.stderr.splitlines()) == 1
    assert "the plan contradicts itself" in done.stderr
    assert "3/8 in" in done.stderr


@pytest.mark.parametrize(
    "arguments",
    [["missing.json"], ["."], ["plan.json", "--readings", "missing.json"]],
    ids=["missing", "folder", "readings"],
)
def test_a_file_that_can_not_be_read_is_one_line(sizes, arguments):
    done = sizes(*arguments, plan=boot_bench())

    assert (done.returncode, done.stdout) == (1, "")
    assert len(done.stderr.splitlines()) == 1
    assert arguments[-1] in done.stderr


def test_a_text_that_is_not_json_is_one_line(sizes):
    done = sizes("plan.json", plan="{'title': 3}")

    assert (done.returncode, done.stdout) == (1, "")
    assert len(done.stderr.splitlines()) == 1
    assert "not JSON" in done.stderr
