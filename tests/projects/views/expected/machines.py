"""The machines of a shop and the written checks."""

from django.utils import timezone

from projects.models import MachinePhoto, Question
from tests.factories import MachineFactory
from tests.projects.views.roles import (
    INSTRUCTORS,
    INSTRUCTORS_UNREAD,
    NO_POST,
    OWN_BUILD,
    OWN_PLAN,
    OWN_PLAN_UNREAD,
    who,
)

OF_CLASS = who(student=200, classmate=200, assistant=200, instructor=200)

EXPECTED = {
    "machine-list": (INSTRUCTORS, INSTRUCTORS_UNREAD),
    "machine-detail": (OWN_PLAN, OWN_PLAN_UNREAD),
    "machine-photo": (OF_CLASS, NO_POST),
    "machine-requirements": (OWN_PLAN, OWN_PLAN_UNREAD),
    "machine-questions": (OWN_PLAN, OWN_PLAN_UNREAD),
    "machine-poster-pdf": (OWN_PLAN, NO_POST),
    "posters-pdf": (who(403, instructor=200, other_instructor=302), NO_POST),
    "written-check": (OWN_BUILD, who(student=422, assistant=403, instructor=403)),
}
PAGES: list[str] = [
    "machine-list",
    "machine-detail",
    "machine-requirements",
    "machine-questions",
    "written-check",
]


def arguments(build):
    """Return the arguments of the addresses about a machine of the class's shop.

    It has a photo and one question.
    """
    machine = MachineFactory.create(shop=build.shop_class.shop, kind="band_saw")
    MachinePhoto.objects.create(
        machine=machine, data=b"photo", width=1, height=1, at=timezone.now()
    )
    Question.objects.create(
        machine=machine,
        text="How high is the guard?",
        choices=["Just above the part", "As it was"],
        right=0,
        why="It covers what is not cut with.",
        source="common practice, no source",
    )
    own = (
        "machine-detail",
        "machine-photo",
        "machine-requirements",
        "machine-questions",
        "machine-poster-pdf",
    )
    return {
        **dict.fromkeys(own, (machine.pk,)),
        "written-check": (build.pk, machine.pk),
    }
