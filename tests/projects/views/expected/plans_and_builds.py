"""Signing in, plans, builds and their sheets."""

from tests.projects.views.roles import (
    GOES_ON,
    INSTRUCTORS,
    INSTRUCTORS_UNREAD,
    NO_GET,
    NO_POST,
    OWN_BUILD,
    OWN_BUILD_UNREAD,
    OWN_PLAN,
    OWN_PLAN_UNREAD,
    SIGNED_IN,
    TAUGHT,
    who,
)

EXPECTED = {
    "home": (GOES_ON, NO_POST),
    "sign-in": (who(302, nobody=200), who(302, nobody=200)),
    "sign-out": (NO_GET, who("sign-in")),
    "class-list": (
        who(403, assistant=200, instructor=200, other_instructor=200),
        NO_POST,
    ),
    "class-create": (INSTRUCTORS, INSTRUCTORS_UNREAD),
    "class-move": (TAUGHT, who(instructor=302)),
    "plan-list": (INSTRUCTORS, INSTRUCTORS_UNREAD),
    "plan-detail": (OWN_PLAN, OWN_PLAN_UNREAD),
    "revision-file": (OWN_PLAN, NO_POST),
    "revision-zip": (OWN_PLAN, NO_POST),
    "plan-checks": (OWN_PLAN, OWN_PLAN_UNREAD),
    "plan-steps": (OWN_PLAN, NO_POST),
    "plan-picture": (who(404), NO_POST),
    "shop-edit": (INSTRUCTORS, who(403, instructor=302, other_instructor=302)),
    "draft-start": (INSTRUCTORS, INSTRUCTORS_UNREAD),
    "draft-edit": (NO_GET, who(403, instructor=302, other_instructor=404)),
    "draft": (OWN_PLAN, OWN_PLAN_UNREAD),
    "draft-file": (OWN_PLAN, NO_POST),
    "draft-import": (OWN_PLAN, OWN_PLAN_UNREAD),
    "draft-try": (OWN_PLAN, NO_POST),
    "draft-publish": (NO_GET, OWN_PLAN_UNREAD),
    "draft-editors": (OWN_PLAN, OWN_PLAN_UNREAD),
    "build-detail": (OWN_BUILD, NO_POST),
    "part-sizes": (who(student=302, assistant=302, instructor=302), NO_POST),
    "size-sum": (OWN_BUILD, NO_POST),
    "readings": (OWN_BUILD, OWN_BUILD_UNREAD),
    "reading-set-aside": (NO_GET, OWN_BUILD_UNREAD),
    "cut-sheet": (OWN_BUILD, NO_POST),
    "build-parts": (OWN_BUILD, NO_POST),
    "build-part-file": (OWN_BUILD, NO_POST),
    "build-parts-pdf": (OWN_BUILD, NO_POST),
    "plan-parts": (OWN_PLAN, NO_POST),
    "plan-parts-pdf": (OWN_PLAN, NO_POST),
    "plan-part-file": (OWN_PLAN, NO_POST),
    "cut-sheet-pdf": (OWN_BUILD, NO_POST),
    "length-read": (SIGNED_IN, NO_POST),
    "showing-choose": (NO_GET, GOES_ON),
}
DRAFTS = [n for n in EXPECTED if n.startswith("draft") and n != "draft-start"]
PAGES = [
    "sign-in",
    "class-list",
    "class-create",
    "class-move",
    "plan-list",
    "plan-detail",
    "plan-checks",
    "plan-steps",
    "shop-edit",
    "draft-start",
    "draft",
    "draft-import",
    "draft-try",
    "draft-editors",
    "build-detail",
    "size-sum",
    "readings",
    "cut-sheet",
]


def arguments(build):
    """Return the arguments of the addresses about a build, its class and its plan."""
    plan = build.revision.plan_id
    of_plan = (
        "plan-detail",
        "plan-checks",
        "plan-steps",
        "plan-parts",
        "plan-parts-pdf",
        *DRAFTS,
    )
    of_build = (
        "build-detail",
        "readings",
        "reading-set-aside",
        "cut-sheet",
        "cut-sheet-pdf",
        "build-parts",
        "build-parts-pdf",
    )
    return {
        "class-move": (build.shop_class_id,),
        **dict.fromkeys(of_plan, (plan,)),
        **dict.fromkeys(of_build, (build.pk,)),
        "revision-file": (plan, 1),
        "revision-zip": (plan, 1),
        "plan-picture": (plan, "none.png"),
        "part-sizes": (build.pk, "shelf"),
        "size-sum": (build.pk, "shelf", "length"),
        "build-part-file": (build.pk, "shelf", "dxf"),
        "plan-part-file": (plan, "shelf", "dxf"),
    }
