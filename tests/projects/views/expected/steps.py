"""A build step by step."""

from tests.projects.views.roles import who

EXPECTED = {
    "build-steps": (who(404), who(404)),
    "build-step": (who(404), who(404)),
    "step-mark": (who(404), who(404)),
    "hand": (who(404), who(404)),
}
PAGES: list[str] = []


def arguments(build):
    """Return the arguments of the addresses about a build and its class."""
    return {
        "build-steps": (build.pk,),
        "build-step": (
            build.pk,
            "none",
        ),
        "step-mark": (
            build.pk,
            "none",
        ),
        "hand": (build.pk,),
    }
