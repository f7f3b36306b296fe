"""Run every check: unit, published, browser and style."""

import os
import subprocess
import sys
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand


class Command(BaseCommand):
    """Takes the place of Django's own test command."""

    help = "Runs every check with pytest; what follows goes to pytest."

    def run_from_argv(self, argv: list[str]) -> None:
        """Give way to pytest, in a fresh process, with all that was typed."""
        command = [sys.executable, "-m", "pytest", *argv[2:]]
        os.chdir(settings.BASE_DIR)
        if os.name == "nt":  # exec on Windows returns to the prompt too early
            sys.exit(subprocess.call(command))
        os.execv(command[0], command)

    def handle(self, *args: Any, **options: Any) -> None:
        """Refuse a call from inside a running process."""
        raise NotImplementedError("run it as: manage.py test")
