"""Signing off on machines, and the record of it."""

from tests.factories import MachineFactory
from tests.projects.views.roles import NO_GET, NO_POST, OWN_BUILD, STAFF, who

STAFF_OF_ANY = who(403, assistant=200, instructor=200, other_instructor=200)

EXPECTED = {
    "account-pin": (
        STAFF_OF_ANY,
        who(403, assistant=422, instructor=422, other_instructor=422),
    ),
    "build-machines": (OWN_BUILD, NO_POST),
    "build-machine": (OWN_BUILD, NO_POST),
    "machine-read": (NO_GET, who(student=302, assistant=403, instructor=403)),
    "sign-off": (
        who(assistant=403, instructor=200),
        who(assistant=403, instructor=422),
    ),
    "class-sign-offs": (STAFF, NO_POST),
    "class-sign-offs-pdf": (STAFF, NO_POST),
    "safety-record-pdf": (OWN_BUILD, NO_POST),
    "class-sign-offs-file": (STAFF, NO_POST),
}
PAGES = [
    "account-pin",
    "build-machines",
    "build-machine",
    "sign-off",
    "class-sign-offs",
]


def arguments(build):
    """Return the arguments of the addresses about a build and its class."""
    machine = MachineFactory.create(shop=build.shop_class.shop, name="Old saw").pk
    at_machine = ("build-machine", "machine-read", "sign-off")
    of_class = ("class-sign-offs", "class-sign-offs-pdf")
    of_build = ("build-machines", "safety-record-pdf")
    return {
        **dict.fromkeys(of_build, (build.pk,)),
        **dict.fromkeys(at_machine, (build.pk, machine)),
        **dict.fromkeys(of_class, (build.shop_class_id,)),
        "class-sign-offs-file": (build.shop_class_id, "csv"),
    }
