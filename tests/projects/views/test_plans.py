"""Publishing plan files, good and bad, and giving them back."""

import json

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from projects.models import Build, Plan, Revision
from tests.factories import as_bytes, plan_bytes, plan_data

HOSTILE = "<script>alert(\"1\")</script> & '2'"
LONG = "W" * 80
EMOJI = "🪵 Bank ½″ ✓"


@pytest.fixture
def publish(as_instructor):
    """Send a plan file as the instructor's browser does."""

    def post(data, url=None):
        if isinstance(data, dict):
            data = as_bytes(data)
        sent = SimpleUploadedFile("plan.json", data, "application/json")
        return as_instructor.post(url or reverse("plan-list"), {"file": sent})

    return post


def errors(response):
    page = response.content.decode()
    return page.partition('<ul id="file-errors">')[2].partition("</ul>")[0]


def changed(*path, value):
    """Return the boot bench with one place of it changed."""
    data = plan_data()
    place = data
    for step in path[:-1]:
        place = place[step]
    place[path[-1]] = value
    return as_bytes(data)


def loop():
    data = plan_data()
    data["joints"].append(
        {
            "key": "again",
            "kind": "butt",
            "guest": "seat.left",
            "host": "left_side.right",
        }
    )
    return as_bytes(data)


def loose():
    data = plan_data()
    data["parts"].append(
        {
            "key": "loose_part",
            "name": "Loose part",
            "stock": "poplar34",
            "length": "x",
            "width": "y",
            "thickness": "z",
        }
    )
    return as_bytes(data)


BAD = {
    "empty": (b"", "empty"),
    "not JSON": (b"{", "line 1, column 2"),
    "a picture": (b"\x89PNG\r\n\x1a\n\x00", "UTF-8"),
    "not UTF-8": (plan_bytes().replace(b"Seat", b"Si\xe8ge"), "UTF-8"),
    "deep": (b"[" * 100_000, "nested more than 20 deep"),
    "a list": (b"[]", "expected an object"),
    "null": (b"null", "expected an object"),
    "another format": (changed("format", value="drawing"), "format"),
    "another version": (changed("version", value=2), "version"),
    "unknown field": (changed("colour", value="red"), "colour"),
    "unknown field inside": (changed("parts", 0, "colour", value="red"), "colour"),
    "repeated key": (plan_bytes().replace(b'"units"', b'"title": "x", "units"'),
                     "title"),
    "same key twice": (changed("parts", 1, "key", value="left_side"), "left_side"),
    "unknown stock": (changed("parts", 2, "stock", value="oak"), "parts[2].stock"),
    "a length of 0": (changed("stock", 0, "thickness", value=0), "stock[0].thickness"),
    "not a number": (changed("stock", 0, "thickness", value="NaN"),
                     "stock[0].thickness"),
    "no such face": (changed("joints", 0, "guest", value="seat.up"), "joints[0].guest"),
    "facing away": (changed("joints", 0, "guest", value="seat.right"), "joints[0]"),
    "too deep a joint": (changed("joints", 0, "depth", value="2"),
                         "joint seat_left"),
    "lone surrogate": (plan_bytes().replace(b'"Seat"', b'"\\ud800"'), "parts[2].name"),
    "a loop": (loop(), "contradicts itself"),
    "a free part": (loose(), "loose_part"),
    "a part below nothing": (changed("distances", 0, "value", value="1/2"),
                             "must be above 0"),
}  # fmt: skip


class TestAGoodFile:
    def test_it_becomes_a_plan(self, publish, instructor):
        answered = publish(plan_bytes("tool_tray"))
        plan = Plan.objects.get(title="Tool tray")

        assert answered.headers["Location"] == reverse("plan-detail", args=[plan.pk])
        assert (plan.owner, plan.revisions.get().number) == (instructor, 1)

    @pytest.mark.parametrize(
        "data",
        [
            plan_bytes(),
            plan_bytes().replace(b"\n", b"\r\n"),
            b"\xef\xbb\xbf" + plan_bytes(),
            plan_bytes() + b"\n\n ",
            as_bytes(plan_data() | {"title": EMOJI}),
        ],
        ids=["as it is", "of Windows", "with a mark", "with spaces", "with emoji"],
    )
    def test_it_is_given_back_to_the_byte(self, data, publish, as_instructor):
        page = publish(data).headers["Location"]
        answered = as_instructor.get(f"{page}revisions/1.json")

        assert answered.content == data
        assert answered.headers["Content-Type"] == "application/json"
        assert answered.headers["Content-Disposition"].startswith("attachment")

    def test_the_next_revision_leaves_builds_where_they_are(
        self, publish, build, as_instructor
    ):
        plan = build.revision.plan
        url = reverse("plan-detail", args=[plan.pk])
        answered = publish(changed("distances", 0, "value", value="40"), url)
        page = as_instructor.get(url).content.decode()

        assert answered.status_code == 302
        assert [one.number for one in plan.revisions.order_by("number")] == [1, 2]
        assert Build.objects.get(pk=build.pk).revision.number == 1
        assert page.index("Revision 2") < page.index("Revision 1")
        # the newest: 40 - 2 x 3/4 + 2 x 3/8
        assert "39 and 1 quarter inches" in page

    def test_a_class_opens_with_the_newest(self, publish, build, as_instructor):
        publish(plan_bytes(), reverse("plan-detail", args=[build.revision.plan_id]))
        page = as_instructor.get(reverse("class-create")).content.decode()

        assert "Hall boot bench, revision 2" in page
        assert "Hall boot bench, revision 1" not in page


class TestABadFile:
    @pytest.mark.parametrize("name", BAD)
    def test_it_is_told_where_and_nothing_is_kept(self, name, publish, build):
        data, place = BAD[name]
        before = Plan.objects.count(), Revision.objects.count()

        for url in (None, reverse("plan-detail", args=[build.revision.plan_id])):
            answered = publish(data, url)
            assert answered.status_code == 422
            assert place in errors(answered)
        assert (Plan.objects.count(), Revision.objects.count()) == before
        assert Plan.objects.get().title == "Hall boot bench"

    @pytest.mark.parametrize("size", [1_000_001, 3_000_000])
    def test_a_huge_one_is_refused_unread(self, size, publish, as_instructor):
        answered = publish(plan_bytes() + b" " * (size - len(plan_bytes())))

        assert answered.status_code == 422
        told = f"This file is {size} bytes; at most 1000000 are read."
        assert told in errors(answered)
        assert not Plan.objects.filter(title="Tool tray").exists()

    def test_one_of_a_million_bytes_is_read(self, publish):
        data = plan_bytes() + b" " * (1_000_000 - len(plan_bytes()))

        assert publish(data).status_code == 302

    def test_every_fault_gets_a_line(self, publish):
        data = plan_data()
        data["joints"][0]["kind"] = "glue"
        data["distances"][2]["from"] = "seat.up"
        lines = errors(publish(data)).split("</li>")

        assert "joints[0].kind" in lines[0]
        assert "distances[2].from" in lines[1]

    def test_no_file_at_all_is_told(self, as_instructor):
        answered = as_instructor.post(reverse("plan-list"), {})

        assert answered.status_code == 422
        assert "This field is required." in errors(answered)

    def test_what_was_read_is_escaped(self, publish):
        told = errors(publish(changed("parts", 0, "stock", value="<b>oak</b>")))

        assert "&lt;b&gt;oak" in told
        assert "<b>" not in told


class TestHostileNames:
    @pytest.fixture
    def pages(self, publish, as_instructor, client_of):
        """Publish a plan full of hostile names; give all pages that show them."""
        data = plan_data() | {"title": f"{HOSTILE} {EMOJI}"}
        data["stock"][0]["name"] = f"{HOSTILE} stock"
        data["parts"][0]["name"] = HOSTILE
        data["parts"][1]["name"] = LONG
        data["parts"][2]["name"] = EMOJI
        data["joints"][0]["name"] = f"{HOSTILE} joint"
        for distance in data["distances"]:
            distance["name"] = f"{HOSTILE} {distance['key']}"
        plan_page = publish(data).headers["Location"]
        form = {
            "title": HOSTILE,
            "revision": Revision.objects.latest("pk").pk,
            "roster": HOSTILE,
        }
        sign_ins = as_instructor.post(reverse("class-create"), form, follow=True)
        build = Build.objects.latest("pk")
        as_student = client_of(build.student)
        names = "build-detail", "readings", "cut-sheet"
        urls = [reverse(one, args=[build.pk]) for one in names]
        urls += [
            reverse("size-sum", args=[build.pk, part, "length"])
            for part in ("seat", "left_side")
        ]
        of_teacher = [
            plan_page,
            reverse("plan-list"),
            reverse("class-list"),
            reverse("class-detail", args=[build.shop_class_id]),
        ]
        as_student.post(urls[1], {"target": "stock:poplar34", "point": 1,
                                  "length": "0.742", "instrument": "tape"})  # fmt: skip
        pages = [sign_ins, *map(as_student.get, urls)]
        return pages + [as_instructor.get(url) for url in of_teacher]

    def test_they_are_shown_and_never_run(self, pages):
        for answered in pages:
            page = answered.content.decode()

            assert answered.status_code == 200
            assert "&lt;script&gt;alert(" in page
            assert "<script>alert" not in page
            assert "</script> &" not in page

    def test_marks_that_turn_text_around_are_refused(self, publish):
        for mark in "\u202e\u2066\u200f\u0007":
            answered = publish(changed("parts", 0, "name", value=f"Left{mark}side"))

            assert answered.status_code == 422
            assert "parts[0].name" in errors(answered)


class TestQueries:
    def test_a_plans_page(self, build, as_instructor, django_assert_num_queries):
        url = reverse("plan-detail", args=[build.revision.plan_id])
        with django_assert_num_queries(4):  # session, user, plan, revisions
            as_instructor.get(url)

    @pytest.mark.parametrize("plans", [1, 4])
    def test_the_list(self, plans, publish, as_instructor, django_assert_num_queries):
        for _ in range(plans):
            publish(json.loads(plan_bytes()))
        with django_assert_num_queries(3):
            as_instructor.get(reverse("plan-list"))
