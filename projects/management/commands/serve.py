"""Serve the class that is kept on this computer."""

from typing import Any

from django.conf import settings
from django.contrib.auth import get_user_model
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandParser

from projects.management import serving


class Command(BaseCommand):
    """For real use; the demo is `manage.py demo`."""

    help = "Brings the database up to date and serves the app."

    def add_arguments(self, parser: CommandParser) -> None:
        serving.add_bind_option(parser)

    def handle(self, *args: Any, bind: str, **options: Any) -> None:
        address, taken = serving.bind(bind)
        with taken:
            call_command("migrate", interactive=False, verbosity=0)
            call_command("clearsessions")
            serving.collect_static_files()
            for host in serving.admit(address):
                self.stdout.write(f"Serving on http://{host}:{address.port}/")
            if not get_user_model()._default_manager.exists():
                self.stdout.write(
                    "Nobody can sign in yet: "
                    'python3 manage.py instructor ida "Ida Thorn"'
                )
            if address.is_open and not settings.HTTPS:
                self.stdout.write(
                    "Without https, anybody in this network can read along, passwords "
                    "included: see README.md."
                )
            self.stdout.write("Stop with Ctrl-C.")
            self.stdout.flush()
            serving.serve(taken)
