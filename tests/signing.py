"""Requirements, records and PINs for tests of signing off."""

from typing import Any

from django.contrib.auth.hashers import MD5PasswordHasher
from django.utils import timezone

from projects.models import Machine, Requirement, RequirementRecord, User

PIN = "4071"
# a cheap hash: the real ones are slow on purpose
PIN_HASH = MD5PasswordHasher().encode(PIN, "salt")
Kind = Requirement.Kind


def with_pin(user: User) -> User:
    """Give a member of staff the signing PIN of these tests."""
    user.pin = PIN_HASH
    user.save(update_fields=["pin"])
    return user


def ask(machine: Machine, *kinds: str) -> list[Requirement]:
    """Let a machine ask for things, titled as their kinds are."""
    return [
        Requirement.objects.create(
            machine=machine, kind=kind, title=str(Kind(kind).label)
        )
        for kind in kinds
    ]


def record(student: User, requirement: Requirement, **fields: Any) -> RequirementRecord:
    """Record that a student met a requirement, by the shop's owner and as of now."""
    given: dict[str, Any] = {
        "met": True,
        "at": timezone.now(),
        "by": requirement.machine.shop.owner,
        "title": requirement.title,
        **fields,
    }
    return RequirementRecord.objects.create(
        student=student, requirement=requirement, **given
    )
