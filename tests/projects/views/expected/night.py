"""Run sheets, meetings, dry fits and miscuts."""

from django.utils import timezone

from projects.models import Meeting
from tests.factories import MachineFactory
from tests.projects.views.roles import (
    NO_GET,
    NO_POST,
    OWN_BUILD,
    OWN_BUILD_UNREAD,
    STAFF,
    who,
)

EXPECTED = {
    "run-sheet-list": (STAFF, NO_POST),
    "run-sheet": (STAFF, who(assistant=403, instructor=302)),
    "run-sheet-tick": (NO_GET, who(assistant=403, instructor=422)),
    "run-sheet-pdf": (STAFF, NO_POST),
    "meeting-night": (STAFF, NO_POST),
    "meeting-presence": (NO_GET, who(assistant=403, instructor=422)),
    "meeting-plan": (NO_GET, who(assistant=403, instructor=302)),
    "machine-outage": (NO_GET, who(assistant=403, instructor=422)),
    "build-dry-fit": (OWN_BUILD, OWN_BUILD_UNREAD),
    "build-certainty": (OWN_BUILD, NO_POST),
    "build-miscut": (OWN_BUILD, OWN_BUILD_UNREAD),
    "way-decide": (NO_GET, who(student=403, assistant=403)),
}
PAGES: list[str] = [
    "run-sheet-list",
    "run-sheet",
    "meeting-night",
    "build-miscut",
    "build-dry-fit",
    "build-certainty",
]


def arguments(build):
    """Return the arguments of the addresses about a build and its class."""
    meeting = Meeting.objects.create(
        shop_class_id=build.shop_class_id, starts_at=timezone.now()
    )
    saw = MachineFactory.create(shop=build.shop_class.shop)
    return {
        "run-sheet-list": (build.shop_class_id,),
        "run-sheet": (build.shop_class_id, saw.pk),
        "run-sheet-tick": (build.shop_class_id, saw.pk),
        "run-sheet-pdf": (build.shop_class_id, saw.pk),
        "meeting-night": (meeting.pk,),
        "meeting-presence": (meeting.pk,),
        "meeting-plan": (meeting.pk,),
        "machine-outage": (meeting.pk,),
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
