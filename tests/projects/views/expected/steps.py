"""A build step by step."""

from tests.projects.views.roles import NO_GET, NO_POST, OWN_BUILD, OWN_BUILD_UNREAD

EXPECTED = {
    "build-steps": (OWN_BUILD, NO_POST),
    "build-step": (OWN_BUILD, NO_POST),
    "step-mark": (NO_GET, OWN_BUILD_UNREAD),
    "hand": (NO_GET, OWN_BUILD_UNREAD),
}
PAGES = ["build-steps", "build-step"]


def arguments(build):
    """Return the arguments of the addresses about a build and its class."""
    return {
        "build-steps": (build.pk,),
        "build-step": (build.pk, "rip"),
        "step-mark": (build.pk, "rip"),
        "hand": (build.pk,),
    }
