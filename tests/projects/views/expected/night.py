"""Run sheets, meetings, dry fits and miscuts."""

from tests.projects.views.roles import NO_POST, who

EXPECTED = {
    "run-sheet-list": (who(404), NO_POST),
    "run-sheet": (who(404), NO_POST),
    "run-sheet-tick": (who(404), NO_POST),
    "run-sheet-pdf": (who(404), NO_POST),
    "meeting-night": (who(404), NO_POST),
    "meeting-presence": (who(404), NO_POST),
    "meeting-plan": (who(404), NO_POST),
    "machine-outage": (who(404), NO_POST),
    "build-dry-fit": (who(404), NO_POST),
    "build-certainty": (who(404), NO_POST),
    "build-miscut": (who(404), NO_POST),
    "way-decide": (who(404), NO_POST),
}
PAGES: list[str] = []


def arguments(build):
    """Return the arguments of the addresses about a build and its class."""
    return {
        "run-sheet-list": (build.shop_class_id,),
        "run-sheet": (
            build.shop_class_id,
            1,
        ),
        "run-sheet-tick": (
            build.shop_class_id,
            1,
        ),
        "run-sheet-pdf": (
            build.shop_class_id,
            1,
        ),
        "meeting-night": (1,),
        "meeting-presence": (1,),
        "meeting-plan": (1,),
        "machine-outage": (1,),
        "build-dry-fit": (build.pk,),
        "build-certainty": (build.pk,),
        "build-miscut": (
            build.pk,
            "shelf",
            "length",
        ),
        "way-decide": (
            build.pk,
            1,
        ),
    }
