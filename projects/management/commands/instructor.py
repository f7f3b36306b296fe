"""Make an instructor who can publish plans and open classes."""

import getpass
from typing import Any

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError, CommandParser

from projects.models import User


class Command(BaseCommand):
    """Asks for the password, so that it stands in no shell history."""

    help = "Makes an instructor; asks for a password."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("username", help="the name to sign in with")
        parser.add_argument("name", help='the name shown, such as "Ida Thorn"')

    def handle(self, *args: Any, username: str, name: str, **options: Any) -> None:
        username = username.strip().lower()
        if User.objects.filter(username=username).exists():
            raise CommandError(f"{username} is taken already.")
        password = getpass.getpass("Password: ")
        if password != getpass.getpass("Once more: "):
            raise CommandError("The two passwords differ; nothing was made.")
        try:
            validate_password(password, User(username=username, name=name))
        except ValidationError as error:
            raise CommandError(" ".join(error.messages)) from error
        User.objects.create_user(username, name, password, is_instructor=True)
        self.stdout.write(f"{name} can sign in as {username}.")
