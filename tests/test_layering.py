"""Imports go one way: the engine knows nothing of the app around it."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent
IMPORT_ENGINE = """
import importlib, pkgutil, sys
import projects.engine
for module in pkgutil.walk_packages(projects.engine.__path__, "projects.engine."):
    importlib.import_module(module.name)
    print("engine", module.name)
for name in sorted(sys.modules):
    print("loaded", name)
"""
OUTSIDE = ("django", "weasyprint", "sqlite3", "shopclass")


def imported_with_the_engine() -> list[tuple[str, str]]:
    done = subprocess.run(
        [sys.executable, "-c", IMPORT_ENGINE],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    pairs = [line.split(" ") for line in done.stdout.splitlines()]
    return [(kind, name) for kind, name in pairs]


def test_the_engine_loads_alone():
    pairs = imported_with_the_engine()
    engine = {name for kind, name in pairs if kind == "engine"}
    loaded = {name for kind, name in pairs if kind == "loaded"}
    ours = {
        name
        for name in loaded
        if name.startswith("projects.") and not name.startswith("projects.engine")
    }
    outside = {name for name in loaded if name.split(".")[0] in OUTSIDE}

    assert "projects.engine.fit" in engine
    assert not ours
    assert not outside
