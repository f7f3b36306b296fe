"""First-run set-up: from plain Python to a command that can run.

Standard library only, since nothing else is there yet.

- `console`: the few lines it says, all on stderr.
- `environment`: `.venv`, the pinned packages in it, and the stamp that says so.
- `system`: what pip cannot bring: Pango for PDFs, Chromium for the tests.

Packagers who bring every package themselves set `SHOPCLASS_ENV=ready`: nothing
is made, installed or checked then, and the running Python is used as it is.
"""

import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from shopclass.setup import environment, system
from shopclass.setup.console import SetupError

ROOT = Path(__file__).resolve().parents[2]


def make_ready(argv: Sequence[str]) -> None:
    """Return once this process can run the command; else exec one that can."""
    if os.environ.get("SHOPCLASS_ENV") == "ready":
        return
    command = argv[1] if len(argv) > 1 else "help"
    try:
        place = environment.Place(root=ROOT)
        groups = environment.groups_for(command, os.environ)
        rebuilt = environment.prepare(place, groups)
        if rebuilt or not place.is_running():
            continue_in(place)
        system.prepare(command)
    except SetupError as error:
        sys.exit(f"Set-up stopped: {error}")
    except KeyboardInterrupt:
        sys.exit("Set-up stopped half-way; run the same command to go on.")


def continue_in(place: environment.Place) -> NoReturn:
    """Start the same command over with the Python of `.venv`."""
    command = [str(place.python), *sys.orig_argv[1:]]
    if os.name == "nt":  # exec on Windows returns to the prompt too early
        sys.exit(subprocess.call(command))
    os.execv(command[0], command)
