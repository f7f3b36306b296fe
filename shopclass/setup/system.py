"""What pip cannot bring: Pango, which draws the PDFs, and Chromium for the tests.

Root on Debian or Ubuntu gets them installed. Anyone else gets the exact command in
one line, and the app goes on without.
"""

import ctypes
import ctypes.util
import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from shopclass.setup.console import say

# The shared libraries that WeasyPrint 70.0 opens, by their Linux names.
PRINT_LIBRARIES = (
    "libgobject-2.0.so.0",
    "libpango-1.0.so.0",
    "libpangoft2-1.0.so.0",
    "libharfbuzz.so.0",
    "libharfbuzz-subset.so.0",
    "libfontconfig.so.1",
)
PRINT_PACKAGES = ("libpango-1.0-0", "libpangoft2-1.0-0", "libharfbuzz-subset0")
NODE_LIBRARY = "libatomic.so.1"  # of the Node.js inside Playwright 1.65.2
NODE_PACKAGES = ("libatomic1",)
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
NEED_PRINTING = {"demo", "serve", "test", "bench"}
NEED_BROWSER = {"test"}


def prepare(command: str) -> None:
    """Install, or name, what the command needs from the system."""
    if command in NEED_PRINTING and not can_print():
        prepare_printing()
    if command in NEED_BROWSER and not can_drive():
        prepare_driver()
    if command in NEED_BROWSER and find_browser() is None:
        prepare_browser()


def can_print() -> bool:
    """Say whether the libraries that draw a PDF can be loaded."""
    if not sys.platform.startswith("linux"):
        return ctypes.util.find_library("pango-1.0") is not None
    return all(map(is_loadable, PRINT_LIBRARIES))


def is_loadable(library: str) -> bool:
    """Say whether the system finds a shared library."""
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def prepare_printing() -> None:
    """Install Pango, or say how to."""
    if not apt_install(PRINT_PACKAGES):
        say(f"Set-up: no Pango, so no PDFs; {by_hand(PRINT_PACKAGES, mac='pango')}")


def can_drive() -> bool:
    """Say whether Playwright's own Node.js can start."""
    return not sys.platform.startswith("linux") or is_loadable(NODE_LIBRARY)


def prepare_driver() -> None:
    """Install what Playwright's Node.js needs, or say how to."""
    if not apt_install(NODE_PACKAGES):
        say(f"Set-up: the browser tests will fail; {by_hand(NODE_PACKAGES)}")


def find_browser() -> str | None:
    """Find a Chromium or Chrome of the system."""
    return next(filter(None, map(shutil.which, BROWSERS)), None)


def prepare_browser() -> None:
    """Install Chromium, or have Playwright bring its own, or say how to."""
    if is_debian() and apt_install(["chromium"]):
        return
    say("Set-up: looking for Playwright's own Chromium")
    command = [sys.executable, "-m", "playwright", "install", "chromium"]
    if run_quietly(command):
        return
    hint = by_hand(["chromium"], mac="--cask chromium")
    say(f"Set-up: no Chromium, so the browser tests will fail; {hint}")


def is_debian() -> bool:
    """Say whether this is Debian itself: Ubuntu's chromium package is a stub."""
    release = Path("/etc/os-release")
    return release.exists() and "ID=debian" in release.read_text("utf-8").splitlines()


def by_hand(packages: Sequence[str], *, mac: str = "python") -> str:
    """Say what a person can run to get some Debian packages, or the like."""
    if sys.platform == "darwin":
        return f"run: brew install {mac}"
    if shutil.which("apt-get"):
        names = " ".join(packages)
        return f"run: sudo apt-get update && sudo apt-get install {names}"
    return f"install what Debian calls {' '.join(packages)}"


def apt_install(packages: Sequence[str]) -> bool:
    """Install Debian packages where that is possible; say whether it worked."""
    if not (shutil.which("apt-get") and is_root()):
        return False
    say(f"Set-up: installing {' '.join(packages)} with apt-get")
    install = ["apt-get", "install", "-y", "--no-install-recommends", *packages]
    if has_package_lists() and run_quietly(install):
        return True
    # No lists yet, or ones so old that their files are gone.
    return run_quietly(["apt-get", "update"]) and run_quietly(install)


def is_root() -> bool:
    """Say whether this process may install system packages."""
    return hasattr(os, "geteuid") and os.geteuid() == 0


def has_package_lists() -> bool:
    """Say whether apt-get update was ever run here."""
    return any(Path("/var/lib/apt/lists").glob("*_Packages*"))


def run_quietly(command: Sequence[str]) -> bool:
    """Run a command without its talk; say whether it worked."""
    done = subprocess.run(
        command,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        env={**os.environ, "DEBIAN_FRONTEND": "noninteractive"},
        check=False,
    )
    return done.returncode == 0
