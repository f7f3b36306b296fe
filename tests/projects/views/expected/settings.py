"""What a class is: dates, staff, data, near misses."""

from tests.projects.views.roles import who

EXPECTED = {
    "class-settings": (who(404), who(404)),
    "class-archive": (who(404), who(404)),
    "class-meetings": (who(404), who(404)),
    "class-calendar": (who(404), who(404)),
    "class-staff": (who(404), who(404)),
    "class-export": (who(404), who(404)),
    "class-delete": (who(404), who(404)),
    "student-delete": (who(404), who(404)),
    "near-miss-list": (who(404), who(404)),
    "near-miss-pdf": (who(404), who(404)),
}
PAGES: list[str] = []


def arguments(build):
    """Return the arguments of the addresses about a build and its class."""
    return {
        "class-settings": (build.shop_class_id,),
        "class-archive": (build.shop_class_id,),
        "class-meetings": (build.shop_class_id,),
        "class-calendar": (build.shop_class_id,),
        "class-staff": (build.shop_class_id,),
        "class-export": (build.shop_class_id,),
        "class-delete": (build.shop_class_id,),
        "student-delete": (
            build.shop_class_id,
            build.student_id,
        ),
        "near-miss-list": (build.shop_class_id,),
        "near-miss-pdf": (build.shop_class_id,),
    }
