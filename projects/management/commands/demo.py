"""Serve an invented class to try the app with.

It has a database file of its own, so it can never touch a real class.
"""

import json
import sys
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

from django.conf import settings
from django.contrib.auth import get_user_model
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandParser
from django.db import connection, transaction

from projects import demo
from projects.management import serving
from shopclass.setup import system

SIGN_INS = Path(settings.DATA_DIR) / "demo-welcome.json"


class Command(BaseCommand):
    """Keeps what was entered, until --fresh."""

    help = "Serves an invented class, made on the first start."

    def add_arguments(self, parser: CommandParser) -> None:
        serving.add_bind_option(parser)
        parser.add_argument(
            "--fresh", action="store_true", help="start the demo over; asks first"
        )
        parser.add_argument(
            "--yes", action="store_true", help="with --fresh: do not ask"
        )

    def handle(
        self, *args: Any, bind: str, fresh: bool, yes: bool, **options: Any
    ) -> None:
        if not settings.DEMO:
            raise SystemExit("The demo starts with: python3 manage.py demo")
        address, taken = serving.bind(bind)
        with taken:
            if fresh:
                start_over(sure=yes)
            call_command("migrate", interactive=False, verbosity=0)
            shown = load_once()
            serving.collect_static_files()
            hosts = serving.admit(address)
            self.welcome(hosts, address.port, shown, opened=address.is_open)
            serving.serve(taken)

    def welcome(
        self,
        hosts: Sequence[str],
        port: int,
        shown: demo.Demo,
        *,
        opened: bool,
    ) -> None:
        """Say where the demo is, who can sign in, sign off and join."""
        say = self.stdout.write
        for host in hosts:
            note = "   (type this on a phone in the same network)" if opened else ""
            say(f"The demo is at http://{host}:{port}/{note}")
        say("\nSign in as:")
        sign_ins = shown.sign_ins
        widths = [max(map(len, column)) for column in zip(*sign_ins, strict=True)]
        for row in sign_ins:
            cells = [cell.ljust(width) for cell, width in zip(row, widths, strict=True)]
            say(f"  {cells[0]}   name: {cells[1]}   password: {row[2]}")
        pins = ", ".join(f"{username} {pin}" for username, pin in shown.pins)
        say(f"\nPINs for signing off on machines: {pins}")
        say("To join as a student who hasn't yet (then choose a PIN):")
        for code in shown.codes:
            say(f"  http://{hosts[0]}:{port}/join/   code: {code}")
        if not system.can_print():
            say("\nPango is missing: sheets print through the browser, without PDFs.")
        say("\nStop with Ctrl-C; what you enter is kept. Start over with --fresh.")
        self.stdout.flush()


def start_over(*, sure: bool) -> None:
    """Delete the demo's database, once a person has typed yes."""
    if not (sure or is_sure()):
        raise SystemExit("Nothing was deleted.")
    connection.close()
    database = str(settings.DATABASES["default"]["NAME"])
    for ending in ("", "-wal", "-shm"):
        Path(database + ending).unlink(missing_ok=True)
    SIGN_INS.unlink(missing_ok=True)


def is_sure() -> bool:
    """Ask on the terminal."""
    if not sys.stdin.isatty():
        raise SystemExit("--fresh asks first, and nobody can answer here; add --yes.")
    answer = input("This deletes all that was entered in the demo. Type yes to go on: ")
    return answer.strip().lower() == "yes"


def load_once() -> demo.Demo:
    """Load the invented class if there is none; return who can be shown round."""
    if not get_user_model()._default_manager.exists():
        with transaction.atomic():
            keep_sign_ins(demo.load())
    elif not SIGN_INS.exists():
        raise SystemExit(f"{SIGN_INS} is gone; start the demo over with --fresh.")
    return demo.Demo(**json.loads(SIGN_INS.read_text("utf-8")))


def keep_sign_ins(shown: demo.Demo) -> None:
    """Keep the invented passwords for the next start's welcome."""
    SIGN_INS.unlink(missing_ok=True)
    SIGN_INS.touch(mode=0o600)
    SIGN_INS.write_text(json.dumps(asdict(shown)), "utf-8")
