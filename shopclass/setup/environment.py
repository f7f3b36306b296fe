"""`.venv` and the packages in it.

The stamp inside `.venv` holds a hash of each dependency list that was installed in
full. It is what makes the next start fast, and a set-up that was cut short starts
again: no stamp, no trust.
"""

import contextlib
import hashlib
import importlib.util
import json
import os
import subprocess
import sys
import time
import tomllib
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from shopclass.setup import system
from shopclass.setup.console import SetupError, say

PYTHON = f"{sys.version_info.major}.{sys.version_info.minor}"
NO_NETWORK_SIGNS = (
    "NewConnectionError",
    "NameResolutionError",
    "ConnectTimeoutError",
    "Temporary failure in name resolution",
    "Network is unreachable",
    "Connection refused",
    "Cannot connect to proxy",
)


@dataclass(frozen=True, kw_only=True)
class Place:
    """A checkout, and where its `.venv` keeps things."""

    root: Path

    @property
    def venv(self) -> Path:
        return self.root / ".venv"

    @property
    def python(self) -> Path:
        scripts = "Scripts/python.exe" if os.name == "nt" else "bin/python"
        return self.venv / scripts

    @property
    def stamp(self) -> Path:
        return self.venv / "set-up.json"

    @property
    def log(self) -> Path:
        return self.venv / "set-up.log"

    def is_running(self) -> bool:
        """Say whether this very process runs in the `.venv`."""
        return Path(sys.prefix).resolve() == self.venv.resolve()


def groups_for(command: str, environ: Mapping[str, str]) -> list[str]:
    """List the dependency groups of pyproject.toml that a command needs."""
    groups = ["base"]
    if command in {"test", "bench"}:
        groups.append("test")
    if environ.get("DATABASE_URL", "").startswith("postgres"):
        groups.append("postgres")
    return groups


def requirements(root: Path, groups: Sequence[str]) -> dict[str, list[str]]:
    """Read the dependency lists of some groups from pyproject.toml."""
    project = tomllib.loads((root / "pyproject.toml").read_text("utf-8"))["project"]
    lists = {"base": project["dependencies"], **project["optional-dependencies"]}
    return {group: lists[group] for group in groups}


def digest(lines: Sequence[str]) -> str:
    """Hash a dependency list."""
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()


def read_stamp(place: Place) -> dict[str, str]:
    """Read what `.venv` holds; nothing if it was never finished."""
    if not (place.stamp.exists() and place.python.exists()):
        return {}
    try:
        stamp: dict[str, str] = json.loads(place.stamp.read_text("utf-8"))
    except ValueError:  # cut short while it was written
        return {}
    # Only the Python of `.venv` knows whether the system's was upgraded under it.
    if place.is_running() and stamp.get("python") != PYTHON:
        return {}
    return stamp


def write_stamp(place: Place, stamp: Mapping[str, str]) -> None:
    """Write what `.venv` holds, in one step."""
    draft = place.stamp.with_suffix(".draft")
    draft.write_text(json.dumps(stamp), "utf-8")
    draft.replace(place.stamp)


def stale_groups(
    stamp: Mapping[str, str], wanted: Mapping[str, Sequence[str]]
) -> list[str]:
    """List the groups that are not installed as they are wanted now."""
    return [group for group in wanted if stamp.get(group) != digest(wanted[group])]


def prepare(place: Place, groups: Sequence[str]) -> bool:
    """Bring `.venv` up to date; say whether it was made anew."""
    wanted = requirements(place.root, groups)
    if not stale_groups(read_stamp(place), wanted):
        return False
    with only_one_at_a_time(place):
        stamp = read_stamp(place)
        stale = stale_groups(stamp, wanted)
        if not stale:  # another start has just done it
            return False
        started = time.monotonic()
        rebuilt = "base" not in stamp
        if rebuilt:
            make_venv(place)
            stamp = {"python": PYTHON}
        install(place, stamp, wanted, stale)
        say(f"Set-up: done in {time.monotonic() - started:.0f} s.")
    return rebuilt


@contextlib.contextmanager
def only_one_at_a_time(place: Place) -> Iterator[None]:
    """Hold other starts in this checkout back while this one installs."""
    if os.name == "nt":  # no flock there; two first starts at once are on their own
        yield
        return
    import fcntl

    with (place.root / "pyproject.toml").open() as held:
        fcntl.flock(held, fcntl.LOCK_EX)
        # A pip that outlives a killed start holds the next one back as well.
        os.set_inheritable(held.fileno(), True)
        yield


def make_venv(place: Place) -> None:
    """Make an empty `.venv`, over whatever was there."""
    say(f"Set-up: making .venv with Python {PYTHON}")
    if importlib.util.find_spec("ensurepip") is None:
        package = f"python{PYTHON}-venv"
        if not system.apt_install([package]):
            raise SetupError(f"Python cannot make .venv; {system.by_hand([package])}")
    # Not sys.executable: when .venv itself is running, that is about to go.
    base = getattr(sys, "_base_executable", None) or sys.executable
    made = subprocess.run(
        [base, "-m", "venv", "--clear", str(place.venv)],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=False,
    )
    if made.returncode:
        raise SetupError(f"Python cannot make .venv: {last_line(made.stdout)}")


def install(
    place: Place,
    stamp: Mapping[str, str],
    wanted: Mapping[str, Sequence[str]],
    stale: Collection[str],
) -> None:
    """Install the wanted groups; stamp them only when all went well."""
    kept = {name: value for name, value in stamp.items() if name not in stale}
    write_stamp(place, kept)
    lines = [line for group in wanted.values() for line in group]
    say(f"Set-up: installing {len(lines)} Python packages (about a minute)")
    pip = [str(place.python), "-m", "pip", "install", "--quiet", "--no-input"]
    options = ["--disable-pip-version-check", "--retries", "2"]
    with place.log.open("w", encoding="utf-8") as log:
        done = subprocess.run(
            [*pip, *options, *lines],
            stdout=log,
            stderr=log,
            close_fds=False,
            check=False,
        )
    if done.returncode:
        raise SetupError(pip_trouble(place.log))
    fresh = {group: digest(wanted[group]) for group in stale}
    write_stamp(place, {**kept, **fresh})


def pip_trouble(log: Path) -> str:
    """Put what pip logged into one line."""
    text = log.read_text("utf-8", errors="replace")
    if any(sign in text for sign in NO_NETWORK_SIGNS):
        return (
            "the Python packages in pyproject.toml are missing, and the package "
            "index cannot be reached; connect to the network and run this again."
        )
    errors = [line for line in text.splitlines() if line.startswith("ERROR:")]
    said = errors[0].removeprefix("ERROR:").strip() if errors else last_line(text)
    return f"pip could not install the Python packages: {said} (all of it: {log})"


def last_line(text: str) -> str:
    """Pick the last line that says something."""
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    return lines[-1] if lines else "no reason given"
