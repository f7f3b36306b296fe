"""Who is in a class, and joining it."""

from tests.projects.views.roles import NO_GET, NO_POST, STAFF, who

UNKNOWN_CARD = who(404, nobody=404)

EXPECTED = {
    "class-roster": (STAFF, who(assistant=403, instructor=422)),
    "student-edit": (
        who(assistant=403, instructor=200),
        who(assistant=403, instructor=422),
    ),
    "card-renew": (NO_GET, who(assistant=403, instructor=302)),
    "class-cards": (who(assistant=403, instructor=200), NO_POST),
    # the student of these walks signs in by name: there is no card to print
    "class-cards-pdf": (who(assistant=403, instructor=302), NO_POST),
    "class-roster-pdf": (who(assistant=403, instructor=200), NO_POST),
    "join": (who(200, nobody=200), who(422, nobody=422)),
    "join-card": (UNKNOWN_CARD, UNKNOWN_CARD),
}
PAGES = ["class-roster", "student-edit", "class-cards", "join"]


def arguments(build):
    """Return the arguments of the addresses about a build and its class."""
    return {
        "class-roster": (build.shop_class_id,),
        "student-edit": (
            build.shop_class_id,
            build.student_id,
        ),
        "card-renew": (
            build.shop_class_id,
            build.student_id,
        ),
        "class-cards": (build.shop_class_id,),
        "class-cards-pdf": (build.shop_class_id,),
        "class-roster-pdf": (build.shop_class_id,),
        "join-card": ("none",),
    }
