"""The roles that every address is walked with, and short ways to write a row."""

ROLES = (
    "nobody",
    "student",
    "classmate",
    "stranger",
    "assistant",
    "instructor",
    "other_instructor",
)
"""The assistant of these walks was given no right beyond seeing the class."""

Row = tuple[int | str, ...]


def who(default: int | str = 404, **answers: int | str) -> Row:
    """Return what each role is answered: `default` unless said, "sign-in" to nobody.

    `students` stands for the student, a classmate and a stranger.
    """
    for_students = answers.pop("students", None)
    if for_students is not None:
        for role in ("student", "classmate", "stranger"):
            answers.setdefault(role, for_students)
    answers.setdefault("nobody", "sign-in")
    unknown = set(answers) - set(ROLES)
    if unknown:
        raise ValueError(f"there is no role {unknown}")
    return tuple(answers.get(role, default) for role in ROLES)


NO_POST = (405,) * len(ROLES)
NO_GET = (405,) * len(ROLES)
SIGNED_IN = who(200)
GOES_ON = who(302)
OWN_BUILD = who(student=200, assistant=200, instructor=200)
OWN_BUILD_UNREAD = who(student=422, assistant=403, instructor=422)
STAFF = who(assistant=200, instructor=200)
TAUGHT = who(instructor=200)
INSTRUCTORS = who(403, instructor=200, other_instructor=200)
INSTRUCTORS_UNREAD = who(403, instructor=422, other_instructor=422)
OWN_PLAN = who(403, instructor=200, other_instructor=404)
OWN_PLAN_UNREAD = who(403, instructor=422, other_instructor=404)
