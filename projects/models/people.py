"""The people who sign in."""

from __future__ import annotations

from typing import ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.utils.translation import gettext_lazy as _


class UserManager(BaseUserManager["User"]):
    """Make people; a name to sign in with is kept in lower case."""

    def create_user(
        self, username: str, name: str, password: str, *, is_instructor: bool = False
    ) -> User:
        """Return a new person who can sign in."""
        user = User(
            username=username.strip().lower(), name=name, is_instructor=is_instructor
        )
        user.set_password(password)
        user.save(using=self._db)
        return user

    def get_by_natural_key(self, username: str | None) -> User:
        """Return who signs in by this name, however it is capitalised."""
        return self.get(username=(username or "").strip().lower())


class User(AbstractBaseUser):
    """A person, with as little about them as the class needs: a name, no e-mail.

    Who was put on a roster signs in with the code on their join card as `username`, and
    has no usable password until they chose a PIN. `pin` is what a signer confirms a
    sign-off with; it is empty until they set one.
    """

    username = models.CharField(_("sign-in name"), max_length=40, unique=True)
    name = models.CharField(_("name"), max_length=80)
    is_instructor = models.BooleanField(_("may publish plans"), default=False)
    is_active = models.BooleanField(default=True)
    pin = models.CharField(_("hash of the PIN for signing"), max_length=128, blank=True)

    objects: ClassVar[UserManager] = UserManager()

    USERNAME_FIELD = "username"
    REQUIRED_FIELDS: ClassVar[list[str]] = ["name"]

    def __str__(self) -> str:
        return self.name

    def get_short_name(self) -> str:
        """Return what fits in a corner of the page."""
        return self.name

    @property
    def has_joined(self) -> bool:
        """Tell whether they can sign in: a PIN or a password was chosen."""
        return self.has_usable_password()
