"""What a class is: dates, staff, data, near misses."""

from tests.projects.views.roles import NO_GET, NO_POST, STAFF, TAUGHT, who

UNREAD = who(instructor=422)
EXPECTED = {
    "class-settings": (TAUGHT, UNREAD),
    "class-archive": (NO_GET, who(instructor=302)),
    "class-meetings": (STAFF, who(assistant=403, instructor=422)),
    "class-calendar": (
        who(student=200, classmate=200, assistant=200, instructor=200),
        NO_POST,
    ),
    "class-staff": (TAUGHT, UNREAD),
    "class-export": (TAUGHT, NO_POST),
    "class-delete": (TAUGHT, UNREAD),
    "student-delete": (TAUGHT, UNREAD),
    "near-miss-list": (TAUGHT, UNREAD),
    "near-miss-pdf": (TAUGHT, NO_POST),
}
PAGES = [
    "class-settings",
    "class-meetings",
    "class-staff",
    "class-delete",
    "student-delete",
    "near-miss-list",
]


def arguments(build):
    """Return the arguments of the addresses about a build and its class."""
    of_class = [name for name in EXPECTED if name != "student-delete"]
    return {
        **dict.fromkeys(of_class, (build.shop_class_id,)),
        "student-delete": (build.shop_class_id, build.student_id),
    }
