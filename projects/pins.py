"""The PIN that a member of staff confirms a sign-off with."""

from __future__ import annotations

from itertools import pairwise

from axes.helpers import get_client_ip_address
from axes.models import AccessAttempt
from axes.utils import reset
from django.contrib.auth import authenticate
from django.contrib.auth.backends import BaseBackend
from django.contrib.auth.hashers import check_password, make_password
from django.http import HttpRequest

from projects.models import Membership, User

SHORTEST, LONGEST = 4, 8


class PinBackend(BaseBackend):
    """Confirm a name with its signing PIN, behind the throttle that comes first.

    It fetches no user for a session, so nobody is signed in by it.
    """

    def authenticate(
        self,
        request: HttpRequest | None,
        username: str | None = None,
        pin: str | None = None,
        **_others: object,
    ) -> User | None:
        """Return whose PIN it is, or None."""
        if username is None or pin is None:
            return None
        user = User.objects.filter(username=username, is_active=True).first()
        if user is None or not user.pin:
            make_password(pin)  # as slow as for somebody who has one
            return None
        return user if check_password(pin, user.pin) else None


def is_confirmed(request: HttpRequest, signer: User, pin: str) -> bool:
    """Tell whether this is the signer's PIN; a wrong one counts as a try.

    Call it outside a transaction: a hash is slow on purpose, and a try is to be kept.
    Past the throttle's limit the answer is always no, and the middleware turns the
    response into the page that says so. A right PIN forgets the tries before it.
    """
    found = authenticate(request, username=signer.username, pin=pin)
    if found is None or found.pk != signer.pk:
        _forget_form(signer)
        return False
    reset(ip=get_client_ip_address(request), username=signer.username)
    return True


def _forget_form(signer: User) -> None:
    """Keep a wrong try without the form it came with: its notes are about a student."""
    tries = AccessAttempt.objects.filter(username=signer.username)
    tries.update(get_data="", post_data="")


def is_guessable(pin: str) -> bool:
    """Tell whether a PIN is the same digit over and over, or counts up or down."""
    steps = {(int(b) - int(a)) % 10 for a, b in pairwise(pin)}
    return steps in ({0}, {1}, {9})


def can_have_one(user: User) -> bool:
    """Tell whether somebody is on the staff of a class; costs a query at most."""
    if user.is_instructor:
        return True
    return Membership.objects.staff().filter(user=user).exists()
