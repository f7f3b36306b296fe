"""Every address, by everybody: who may, who may not, and what the answer carries."""

from html.parser import HTMLParser

import pytest
from django.test import Client
from django.urls import URLPattern, get_resolver, reverse

from projects import drafting, planning_jobs
from projects.models import Build, Plan, Reading, ShopClass, SignOff, StepMark
from projects.printing import packs
from tests.projects.views.expected import (
    machines,
    night,
    overview,
    plans_and_builds,
    roster,
    settings,
    signoffs,
    steps,
)
from tests.projects.views.roles import NO_POST, ROLES

AREAS = (
    plans_and_builds,
    overview,
    roster,
    settings,
    machines,
    signoffs,
    steps,
    night,
)
EXPECTED = {name: row for area in AREAS for name, row in area.EXPECTED.items()}
PAGES = [name for area in AREAS for name in area.PAGES]
POSTED = [name for name, (_, post) in EXPECTED.items() if post != NO_POST]


def url_names(patterns=None):
    for pattern in patterns or get_resolver().url_patterns:
        if isinstance(pattern, URLPattern):
            yield pattern.name
        else:
            yield from url_names(pattern.url_patterns)


@pytest.fixture(autouse=True)
def _no_work_behind(monkeypatch):
    """Start no plan of a meeting and no pack: each would go on behind the tests."""
    monkeypatch.setattr(planning_jobs, "_SHELF", planning_jobs._Shelf())
    monkeypatch.setattr(planning_jobs, "_in_background", lambda _work: None)
    monkeypatch.setattr(packs, "_SHELF", packs._Shelf())
    monkeypatch.setattr(packs, "pdf_of_many", lambda _htmls, **_more: b"%PDF-")


@pytest.fixture
def address(build):
    """Give the address of a page about the student's build: address("readings").

    Its plan has a draft.
    """
    drafting.edit(build.revision.plan, build.revision.plan.owner)

    of_area = [area.arguments(build) for area in AREAS]
    given = {name: args for found in of_area for name, args in found.items()}

    def of(name):
        return reverse(name, args=given.get(name, ()))

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
def test_who_may(name, everybody, address):
    url = address(name)
    expected = [dict(zip(ROLES, row, strict=True)) for row in EXPECTED[name]]
    rows = Build, Plan, Reading, ShopClass, SignOff, StepMark
    before = [model.objects.count() for model in rows]

    got = [
        {
            role: answer(getattr(client, method)(url))
            for role, client in everybody.items()
        }
        for method in ("get", "post")
    ]

    assert got == expected
    assert [model.objects.count() for model in rows] == before


def test_nothing_is_deleted(as_instructor, address):
    got = {name: as_instructor.delete(address(name)).status_code for name in EXPECTED}

    # signing in sends on who is signed in
    assert got == dict.fromkeys(EXPECTED, 405) | {"sign-in": 302}


def test_a_post_from_another_site_is_refused(instructor, client_of, address):
    client = client_of(instructor, enforce_csrf_checks=True)
    for name in POSTED:
        answered = client.post(address(name), {"showing": "mm"})

        assert answered.status_code == 403, name
        assert "Nothing was changed" in answered.content.decode(), name


def test_pages_say_what_a_browser_may_do(as_instructor, address):
    for name in PAGES:
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
