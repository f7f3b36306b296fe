"""The steps of a plan on its page, their pictures, and a plan with them as a zip."""

import io
import json
from html import unescape

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from projects import actions, pictures, plan_zip
from projects.engine.errors import EngineError
from projects.models import Plan, PlanPicture
from tests.factories import plan_bytes, plan_data


@pytest.fixture
def as_instructor(client_of, instructor):
    return client_of(instructor)


@pytest.fixture
def plan(shop_class):
    return shop_class.revision.plan


@pytest.fixture
def picture():
    out = io.BytesIO()
    Image.new("RGB", (60, 40), (120, 80, 40)).save(out, "PNG")
    return pictures.clean(out.getvalue(), file_name="stop block.png")


def with_steps(*steps):
    return json.dumps(plan_data() | {"steps": list(steps)}).encode()


def step(key="rip", stage="mill", **more):
    return {"key": key, "title": "Rip the sides", "stage": stage, **more}


class TestThePage:
    def test_without_steps_those_that_follow_from_the_joints_are_shown(
        self, as_instructor, plan
    ):
        answered = as_instructor.get(reverse("plan-steps", args=[plan.pk]))

        assert answered.context["proposed"]
        assert not answered.context["faults"]
        assert [s.key for s in answered.context["stages"]][:2] == ["mill", "joinery"]

    def test_an_impossible_order_is_told(self, as_instructor, instructor, plan):
        late = step("glue", "assembly", title="Glue up")
        actions.publish_plan(instructor, with_steps(late, step()), plan=plan)
        answered = as_instructor.get(reverse("plan-steps", args=[plan.pk]))

        assert answered.context["faults"]
        assert answered.context["faults"][0].what in unescape(answered.content.decode())

    def test_notes_are_escaped(self, as_instructor, instructor, plan):
        hostile = step(note="<script>alert(1)</script>")
        actions.publish_plan(instructor, with_steps(hostile), plan=plan)
        page = as_instructor.get(reverse("plan-steps", args=[plan.pk]))

        assert b"<script>alert" not in page.content


class TestPictures:
    def publish(self, instructor, plan, picture):
        return actions.publish_plan(
            instructor,
            with_steps(step(picture=picture.name)),
            plan=plan,
            pictures=[picture],
        )

    def test_those_of_the_plan_and_the_class_see_it(
        self, client_of, instructor, student, stranger, other_instructor, plan, picture
    ):
        self.publish(instructor, plan, picture)
        url = reverse("plan-picture", args=[plan.pk, picture.name])
        answers = {
            who: client_of(who).get(url).status_code
            for who in (instructor, student, stranger, other_instructor)
        }

        assert list(answers.values()) == [200, 200, 404, 404]

    def test_it_is_served_as_what_it_is(self, as_instructor, instructor, plan, picture):
        self.publish(instructor, plan, picture)
        answered = as_instructor.get(
            reverse("plan-picture", args=[plan.pk, picture.name])
        )

        assert answered.content == picture.data
        assert answered["Content-Type"] == "image/jpeg"
        assert "private" in answered["Cache-Control"]
        assert answered["X-Content-Type-Options"] == "nosniff"

    def test_a_picture_that_is_not_there_is_told_by_its_place(self, instructor, plan):
        with pytest.raises(EngineError, match=r"^steps\[0\]\.picture: there is no"):
            actions.publish_plan(
                instructor, with_steps(step(picture="gone.jpg")), plan=plan
            )

    def test_the_next_revision_may_use_it_again(self, instructor, plan, picture):
        self.publish(instructor, plan, picture)
        actions.publish_plan(
            instructor, with_steps(step(picture=picture.name)), plan=plan
        )

        assert PlanPicture.objects.count() == 1
        assert plan.revisions.count() == 3


class TestZip:
    def test_out_of_one_plan_and_into_another_is_exact(
        self, as_instructor, instructor, plan, picture
    ):
        revision = TestPictures().publish(instructor, plan, picture)
        out = as_instructor.get(
            reverse("revision-zip", args=[plan.pk, revision.number])
        ).content
        as_instructor.post(
            reverse("plan-list"), {"file": SimpleUploadedFile("bench.zip", out)}
        )
        other = Plan.objects.exclude(pk=plan.pk).get()

        assert other.revisions.get().document == revision.document
        assert bytes(other.pictures.get().data) == picture.data
        again = as_instructor.get(reverse("revision-zip", args=[other.pk, 1])).content
        assert again == out

    def test_a_bad_picture_publishes_nothing(self, as_instructor, plan):
        packed = plan_zip.pack(plan_bytes(), {"a.jpg": b"no picture"})
        answered = as_instructor.post(
            reverse("plan-list"), {"file": SimpleUploadedFile("bench.zip", packed)}
        )

        assert answered.status_code == 422
        assert "is not a JPEG" in answered.content.decode()
        assert Plan.objects.count() == 1
