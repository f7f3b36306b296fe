"""Every address, by everybody: who may, who may not, and what the answer carries."""

from html.parser import HTMLParser

import pytest
from django.test import Client
from django.urls import URLPattern, get_resolver, reverse

from projects import drafting
from projects.models import Build, Plan, Reading, ShopClass

ROLES = (
    "nobody",
    "student",
    "classmate",
    "stranger",
    "instructor",
    "other_instructor",
)
NO_POST = (405,) * 6
NO_GET = (405,) * 6
OWN_BUILD = ("sign-in", 200, 404, 404, 200, 404)
OWN_BUILD_UNREAD = ("sign-in", 422, 404, 404, 422, 404)
OWN_PLAN = ("sign-in", 403, 403, 403, 200, 404)
OWN_PLAN_UNREAD = ("sign-in", 403, 403, 403, 422, 404)
INSTRUCTORS = ("sign-in", 403, 403, 403, 200, 200)
INSTRUCTORS_UNREAD = ("sign-in", 403, 403, 403, 422, 422)
SIGNED_IN = ("sign-in", 200, 200, 200, 200, 200)
GOES_ON = ("sign-in", 302, 302, 302, 302, 302)
OUT = ("sign-in",) * 6
# name: GET, then POST with nothing filled in, in the order of ROLES
EXPECTED = {
    "home": (GOES_ON, NO_POST),
    "sign-in": ((200, 302, 302, 302, 302, 302), (200, 302, 302, 302, 302, 302)),
    "sign-out": (NO_GET, OUT),
    "class-list": (INSTRUCTORS, NO_POST),
    "class-create": (INSTRUCTORS, INSTRUCTORS_UNREAD),
    "class-detail": (("sign-in", 404, 404, 404, 200, 404), NO_POST),
    "class-sign-ins": (("sign-in", 404, 404, 404, 302, 404), NO_POST),
    "class-move": (
        ("sign-in", 404, 404, 404, 200, 404),
        ("sign-in", 404, 404, 404, 302, 404),
    ),
    "plan-list": (INSTRUCTORS, INSTRUCTORS_UNREAD),
    "plan-detail": (OWN_PLAN, ("sign-in", 403, 403, 403, 422, 404)),
    "revision-file": (OWN_PLAN, NO_POST),
    "revision-zip": (OWN_PLAN, NO_POST),
    "plan-checks": (OWN_PLAN, OWN_PLAN_UNREAD),
    "plan-steps": (OWN_PLAN, NO_POST),
    "plan-picture": (("sign-in", 404, 404, 404, 404, 404), NO_POST),
    "shop-edit": (INSTRUCTORS, ("sign-in", 403, 403, 403, 302, 302)),
    "draft-start": (INSTRUCTORS, INSTRUCTORS_UNREAD),
    "draft-edit": (NO_GET, ("sign-in", 403, 403, 403, 302, 404)),
    "draft": (OWN_PLAN, OWN_PLAN_UNREAD),
    "draft-file": (OWN_PLAN, NO_POST),
    "draft-import": (OWN_PLAN, OWN_PLAN_UNREAD),
    "draft-try": (OWN_PLAN, NO_POST),
    "draft-publish": (NO_GET, OWN_PLAN_UNREAD),
    "draft-editors": (OWN_PLAN, OWN_PLAN_UNREAD),
    "build-detail": (OWN_BUILD, NO_POST),
    "part-sizes": (("sign-in", 302, 404, 404, 302, 404), NO_POST),
    "size-sum": (OWN_BUILD, NO_POST),
    "readings": (OWN_BUILD, OWN_BUILD_UNREAD),
    "reading-set-aside": (NO_GET, OWN_BUILD_UNREAD),
    "cut-sheet": (OWN_BUILD, NO_POST),
    "new-password": (NO_GET, ("sign-in", 404, 404, 404, 302, 404)),
    "build-parts": (OWN_BUILD, NO_POST),
    "build-part-file": (OWN_BUILD, NO_POST),
    "build-parts-pdf": (OWN_BUILD, NO_POST),
    "plan-parts": (OWN_PLAN, NO_POST),
    "plan-part-file": (OWN_PLAN, NO_POST),
    "cut-sheet-pdf": (OWN_BUILD, NO_POST),
    "length-read": (SIGNED_IN, NO_POST),
    "showing-choose": (NO_GET, GOES_ON),
}
DRAFTS = [n for n in EXPECTED if n.startswith("draft") and n != "draft-start"]
POSTED = [name for name, (_, post) in EXPECTED.items() if post != NO_POST]
PAGES = [
    "sign-in",
    "class-list",
    "class-create",
    "class-detail",
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


def url_names(patterns=None):
    for pattern in patterns or get_resolver().url_patterns:
        if isinstance(pattern, URLPattern):
            yield pattern.name
        else:
            yield from url_names(pattern.url_patterns)


@pytest.fixture
def address(build):
    """Give the address of a page about the student's build: address("readings").

    Its plan has a draft.
    """
    drafting.edit(build.revision.plan, build.revision.plan.owner)

    def of(name):
        plan = build.revision.plan_id
        arguments = {
            "class-detail": (build.shop_class_id,),
            "class-move": (build.shop_class_id,),
            "class-sign-ins": (build.shop_class_id,),
            **dict.fromkeys(
                ("plan-detail", "plan-checks", "plan-steps", *DRAFTS), (plan,)
            ),
            "revision-file": (plan, 1),
            "revision-zip": (plan, 1),
            "plan-picture": (plan, "none.png"),
            "part-sizes": (build.pk, "shelf"),
            "build-part-file": (build.pk, "shelf", "dxf"),
            "plan-part-file": (plan, "shelf", "dxf"),
            "plan-parts": (plan,),
            "size-sum": (build.pk, "shelf", "length"),
            **dict.fromkeys(
                (
                    "build-detail",
                    "readings",
                    "reading-set-aside",
                    "cut-sheet",
                    "cut-sheet-pdf",
                    "build-parts",
                    "new-password",
                    "build-parts-pdf",
                ),
                (build.pk,),
            ),
        }
        return reverse(name, args=arguments.get(name, ()))

    return of


@pytest.fixture
def everybody(request, client_of):
    """Give each role's browser."""
    people = {role: request.getfixturevalue(role) for role in ROLES if role != "nobody"}
    return {"nobody": Client()} | {
        role: client_of(person) for role, person in people.items()
    }


def answer(response):
    to_sign_in = response.headers.get("Location", "").startswith(reverse("sign-in"))
    return (
        "sign-in"
        if response.status_code == 302 and to_sign_in
        else (response.status_code)
    )


def test_every_address_is_looked_at_here():
    assert set(url_names()) == set(EXPECTED)


@pytest.mark.parametrize("name", EXPECTED)
@pytest.mark.parametrize("method", ["get", "post"])
def test_who_may(name, method, everybody, address):
    url = address(name)
    expected = dict(zip(ROLES, EXPECTED[name][method == "post"], strict=True))
    rows = Build, Plan, Reading, ShopClass
    before = [model.objects.count() for model in rows]

    got = {
        role: answer(getattr(client, method)(url)) for role, client in everybody.items()
    }

    assert got == expected
    assert [model.objects.count() for model in rows] == before


@pytest.mark.parametrize("name", EXPECTED)
def test_nothing_is_deleted(name, as_instructor, address):
    expected = 302 if name == "sign-in" else 405  # it sends on who is signed in

    assert as_instructor.delete(address(name)).status_code == expected


@pytest.mark.parametrize("name", POSTED)
def test_a_post_from_another_site_is_refused(name, instructor, client_of, address):
    client = client_of(instructor, enforce_csrf_checks=True)
    answered = client.post(address(name), {"showing": "mm"})

    assert answered.status_code == 403
    assert "Nothing was changed" in answered.content.decode()


@pytest.mark.parametrize("name", PAGES)
def test_pages_say_what_a_browser_may_do(name, as_instructor, address):
    client = Client() if name == "sign-in" else as_instructor
    held_to(client.get(address(name)), status=200)


def test_pages_of_refusal_say_it_too(as_student, as_instructor, address):
    held_to(as_student.get(address("class-list")), status=403)
    held_to(as_student.get("/builds/99999/"), status=404)
    held_to(as_instructor.post(address("plan-list"), {"file": ""}), status=422)


class Inline(HTMLParser):
    """Collect what a page's Content-Security-Policy would stop."""

    def __init__(self):
        super().__init__()
        self.found = []

    def handle_starttag(self, tag, attrs):
        names = {name for name, _ in attrs}
        if tag == "style" or (tag == "script" and "src" not in names):
            self.found.append(tag)
        self.found += [n for n in names if n == "style" or n.startswith("on")]
        self.found += [
            value
            for name, value in attrs
            if name in ("src", "href") and value.startswith(("http", "//", "data:"))
        ]


def held_to(response, *, status):
    policy = response.headers["Content-Security-Policy"]
    inline = Inline()
    inline.feed(response.content.decode())

    assert response.status_code == status
    assert "default-src 'self'" in policy
    assert "frame-ancestors 'none'" in policy
    assert "unsafe" not in policy
    assert response.headers["X-Frame-Options"] == "DENY"
    assert response.headers["X-Content-Type-Options"] == "nosniff"
    assert response.headers["Referrer-Policy"] == "same-origin"
    assert not inline.found


@pytest.mark.parametrize(
    "url",
    [
        "/builds/{build}/sizes/bookcase/",
        "/builds/{build}/sizes/bookcase/length/",
        "/builds/{build}/sizes/shelf/height/",
        "/plans/{plan}/revisions/2.json",
        "/plans/{plan}/revisions/0.json",
        "/builds/999999/",
        "/builds/99999999999999999999999/",
        "/plans/99999999999999999999999/",
        "/plans/{plan}/revisions/99999999999999999999999.json",
        "/classes/99999999999999999999999/",
        "/nothing/",
    ],
)
def test_what_is_not_there_is_not_found(url, build, as_instructor):
    url = url.format(build=build.pk, plan=build.revision.plan_id)
    # as a student's phone asks: a fragment of nothing is nothing too
    answered = as_instructor.get(url, headers={"HX-Request": "true"})

    assert answered.status_code == 404
