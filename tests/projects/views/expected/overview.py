"""A class on one page, and all its sheets."""

from tests.projects.views.roles import NO_POST, STAFF, who

EXPECTED = {
    "class-detail": (STAFF, NO_POST),
    "class-overview-file": (STAFF, NO_POST),
    "class-prints": (STAFF, NO_POST),
    "class-pack": (STAFF, who(assistant=302, instructor=302)),
    "class-pack-pdf": (who(assistant=302, instructor=302), NO_POST),
}
PAGES = ["class-detail", "class-prints", "class-pack"]


def arguments(build):
    """Return the arguments of the addresses about a build and its class."""
    return {
        "class-detail": (build.shop_class_id,),
        "class-overview-file": (
            build.shop_class_id,
            "csv",
        ),
        "class-prints": (build.shop_class_id,),
        "class-pack": (build.shop_class_id,),
        "class-pack-pdf": (build.shop_class_id,),
    }
