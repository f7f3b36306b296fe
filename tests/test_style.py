"""The house style, as far as machines can tell."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
ENGINE = ROOT / "projects" / "engine"


def run(
    *arguments: str, typed_in: str | None = None
) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", *arguments]
    return subprocess.run(
        command, cwd=ROOT, input=typed_in, capture_output=True, text=True, check=False
    )


def test_ruff_finds_nothing():
    done = run("ruff", "check", "--quiet", "--output-format=concise", ".")

    assert done.returncode == 0, done.stdout + done.stderr


def test_every_file_is_formatted():
    done = run("ruff", "format", "--check", "--quiet", ".")

    assert done.returncode == 0, done.stdout + done.stderr


def test_types_hold():
    done = run("mypy", "--no-error-summary")

    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize(
    "line",
    [
        "import django",
        "from django.conf import settings",
        "import weasyprint",
        "import sqlite3",
        "import random",
        "import secrets",
        "import time",
        "from time import monotonic",
        "from projects.models import User",
    ],
)
def test_the_engine_may_not(line):
    name = str(ENGINE / "tried.py")
    done = run("ruff", "check", "--stdin-filename", name, "-", typed_in=f"{line}\n")

    assert "TID251" in done.stdout


def test_the_engine_has_no_clock():
    source = "import datetime\n\ntoday = datetime.date.today()\n"
    name = str(ENGINE / "tried.py")
    done = run("ruff", "check", "--stdin-filename", name, "-", typed_in=source)

    assert "TID251" in done.stdout


def public_functions():
    for path in sorted(ENGINE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                yield path.relative_to(ROOT), node


def test_every_length_in_millimetres_says_so():
    missing = []
    for path, function in public_functions():
        every = [*function.args.posonlyargs, *function.args.args]
        every += function.args.kwonlyargs
        lengths = [argument.arg for argument in every if argument.arg.endswith("_mm")]
        if lengths and "[mm]" not in (ast.get_docstring(function) or ""):
            missing.append(f"{path}:{function.lineno} {function.name}")

    assert not missing, "no [mm] in the docstring of:\n" + "\n".join(missing)
