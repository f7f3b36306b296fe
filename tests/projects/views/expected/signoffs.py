"""Signing off on machines, and the record of it."""

from tests.projects.views.roles import who

EXPECTED = {
    "account-pin": (who(404), who(404)),
    "build-machines": (who(404), who(404)),
    "build-machine": (who(404), who(404)),
    "machine-read": (who(404), who(404)),
    "sign-off": (who(404), who(404)),
    "class-sign-offs": (who(404), who(404)),
    "class-sign-offs-pdf": (who(404), who(404)),
    "safety-record-pdf": (who(404), who(404)),
    "class-sign-offs-file": (who(404), who(404)),
}
PAGES: list[str] = []


def arguments(build):
    """Return the arguments of the addresses about a build and its class."""
    return {
        "build-machines": (build.pk,),
        "build-machine": (
            build.pk,
            1,
        ),
        "machine-read": (
            build.pk,
            1,
        ),
        "sign-off": (
            build.pk,
            1,
        ),
        "class-sign-offs": (build.shop_class_id,),
        "class-sign-offs-pdf": (build.shop_class_id,),
        "safety-record-pdf": (build.pk,),
        "class-sign-offs-file": (
            build.shop_class_id,
            "csv",
        ),
    }
