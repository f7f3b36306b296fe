"""Moving builds to a newer revision of their plan."""

from fractions import Fraction

import pytest
from django.urls import reverse
from django.utils import timezone

from projects import actions
from projects.models import BuildMove, StepMark
from projects.models.append_only import AppendOnlyError
from tests.factories import (
    OPENING,
    POPLAR,
    SHELF_CUT,
    as_bytes,
    enrol,
    log,
    plan_data,
)


def changed(edit):
    """Return the boot bench as a file, after `edit` changed its data."""
    data = plan_data()
    edit(data)
    return as_bytes(data)


def wider(data):
    data["distances"][0]["value"] = "37"


def without_opening(data):
    data["distances"] = [d for d in data["distances"] if d["key"] != "opening"]


def thick_tenons(data):
    """At the planned 3/4 in a 3/4 in tenon has no shoulders; on less it can't be."""
    for joint in data["joints"]:
        if joint["kind"] == "tenon":
            joint["tenon"]["thickness"] = "3/4"


@pytest.fixture
def publish(shop_class, instructor):
    """Publish a changed bench as the next revision."""

    def publish(edit):
        return actions.publish_plan(
            instructor, changed(edit), plan=shop_class.revision.plan
        )

    return publish


@pytest.fixture
def url(shop_class):
    return reverse("class-move", args=[shop_class.pk])


@pytest.fixture
def as_instructor(client, instructor):
    client.force_login(instructor)
    return client


def marked(build, step):
    """Mark a step as done, as a student would."""
    StepMark.objects.create(
        build=build, step=step, title=step, done=True, at=timezone.now(),
        by=build.student,
    )  # fmt: skip


class TestTheClassPage:
    def test_it_says_that_a_newer_revision_is_there(
        self, as_instructor, build, publish, shop_class, url
    ):
        page = reverse("class-detail", args=[shop_class.pk])
        assert url not in as_instructor.get(page).content.decode()

        publish(wider)

        assert url in as_instructor.get(page).content.decode()


class TestLooking:
    def test_each_size_that_changes_is_shown(self, as_instructor, build, publish, url):
        publish(wider)
        (student,) = as_instructor.get(url).context["students"]
        by_part = {(c.part, c.dimension): c for c in student.changes}

        assert by_part["Seat", "length"].before.spoken == "35 and 1 quarter inches"
        assert by_part["Seat", "length"].after.spoken == "36 and 1 quarter inches"
        assert ("Left side", "length") not in by_part
        assert not student.cut_parts

    def test_parts_already_cut_are_flagged_and_not_ticked(
        self, as_instructor, build, publish, url
    ):
        log(build, SHELF_CUT, "35 1/4", instrument="tape")
        publish(wider)
        answered = as_instructor.get(url)
        (student,) = answered.context["students"]

        assert student.cut_parts == ("Lower shelf",)
        assert f'value="{build.pk}" checked' not in answered.content.decode()

    def test_so_are_parts_whose_cutting_step_is_marked_as_done(
        self, as_instructor, build, publish, url
    ):
        marked(build, "crosscut")
        publish(wider)
        answered = as_instructor.get(url)
        (student,) = answered.context["students"]

        assert student.cut_parts == ("Seat", "Lower shelf")
        assert f'value="{build.pk}" checked' not in answered.content.decode()

    def test_readings_of_what_is_gone_are_named(
        self, as_instructor, build, publish, url
    ):
        log(build, OPENING, "34 17/32", instrument="tape")
        publish(without_opening)
        (student,) = as_instructor.get(url).context["students"]

        assert student.dropped == ("distance:opening",)

    def test_what_cannot_be_built_cannot_be_moved(
        self, as_instructor, build, publish, url
    ):
        log(build, POPLAR, "0.742")
        publish(thick_tenons)
        (student,) = as_instructor.get(url).context["students"]
        assert student.problems

        answered = as_instructor.post(url, {"build": build.pk})

        assert answered.status_code == 422
        build.refresh_from_db()
        assert build.revision.number == 1
        assert not BuildMove.objects.exists()

    def test_queries_do_not_grow_with_the_class(
        self, as_instructor, shop_class, publish, url, django_assert_max_num_queries
    ):
        for _ in range(12):
            enrol(shop_class)
        publish(wider)

        with django_assert_max_num_queries(10):
            as_instructor.get(url)


class TestMoving:
    def test_those_ticked_move_and_it_is_kept(
        self, as_instructor, build, classmate, instructor, publish, shop_class, url
    ):
        newest = publish(wider)
        as_instructor.post(url, {"build": build.pk})
        build.refresh_from_db()
        shop_class.refresh_from_db()

        assert build.revision == newest
        assert classmate.builds.get().revision.number == 1
        assert shop_class.revision == newest
        move = BuildMove.objects.get()
        assert (move.build, move.old.number, move.new, move.by) == (
            build,
            1,
            newest,
            instructor,
        )

    def test_readings_stay(self, as_instructor, build, publish, url):
        log(build, POPLAR, "0.742")
        publish(wider)
        as_instructor.post(url, {"build": build.pk})

        assert build.readings.get().mm == Fraction("0.742") * Fraction("25.4")

    def test_nobody_ticked_moves_nobody(
        self, as_instructor, build, publish, shop_class, url
    ):
        publish(wider)
        as_instructor.post(url, {})
        shop_class.refresh_from_db()

        assert not BuildMove.objects.exists()
        assert shop_class.revision.number == 1

    def test_another_classs_build_is_left_alone(
        self, as_instructor, build, stranger, publish, url
    ):
        publish(wider)
        theirs = stranger.builds.get()
        as_instructor.post(url, {"build": theirs.pk})
        theirs.refresh_from_db()

        assert theirs.moves.count() == 0

    def test_a_move_is_never_changed(self, as_instructor, build, publish, url):
        publish(wider)
        as_instructor.post(url, {"build": build.pk})
        move = BuildMove.objects.get()

        with pytest.raises(AppendOnlyError):
            move.save()
        with pytest.raises(AppendOnlyError):
            move.delete()
