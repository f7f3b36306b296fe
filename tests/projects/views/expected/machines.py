"""The machines of a shop and the written checks."""

from tests.projects.views.roles import who

EXPECTED = {
    "machine-list": (who(404), who(404)),
    "machine-detail": (who(404), who(404)),
    "machine-photo": (who(404), who(404)),
    "machine-requirements": (who(404), who(404)),
    "machine-questions": (who(404), who(404)),
    "machine-poster-pdf": (who(404), who(404)),
    "posters-pdf": (who(404), who(404)),
    "written-check": (who(404), who(404)),
}
PAGES: list[str] = []


def arguments(build):
    """Return the arguments of the addresses about a build and its class."""
    return {
        "machine-detail": (1,),
        "machine-photo": (1,),
        "machine-requirements": (1,),
        "machine-questions": (1,),
        "machine-poster-pdf": (1,),
        "written-check": (
            build.pk,
            1,
        ),
    }
