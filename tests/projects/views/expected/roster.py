"""Who is in a class, and joining it."""

from tests.projects.views.roles import who

EXPECTED = {
    "class-roster": (who(404), who(404)),
    "student-edit": (who(404), who(404)),
    "card-renew": (who(404), who(404)),
    "class-cards": (who(404), who(404)),
    "class-cards-pdf": (who(404), who(404)),
    "class-roster-pdf": (who(404), who(404)),
    "join": (who(404), who(404)),
    "join-card": (who(404), who(404)),
}
PAGES: list[str] = []


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
