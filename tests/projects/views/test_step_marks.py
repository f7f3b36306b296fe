"""Marking a build's steps: done, refused, moved back, and by whom."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from projects import actions, adapters, progress
from projects.models import RIGHTS, Machine
from tests.factories import MachineFactory, help_in, log_stock, sign_off
from tests.projects.views.step_plans import SAW, mark, publish, step, tick, words


@pytest.fixture
def saw(shop_class):
    """The shop's table saw."""
    return MachineFactory(shop=shop_class.shop)


@pytest.fixture
def url(build):
    """Give an address of the build: url("build-step", "rip")."""
    return lambda name, *args: reverse(name, args=[build.pk, *args])


class TestTicking:
    def test_without_javascript_it_leads_back_to_where_it_was_said(
        self, as_student, build, url
    ):
        done = tick(as_student, url, "rough_cut", page="steps")
        also = tick(as_student, url, "flatten")

        assert done["Location"] == url("build-steps")
        assert also["Location"] == url("build-step", "flatten")
        kept = build.marks.get(step="rough_cut")
        assert (kept.done, kept.machine, kept.by) == (True, "hand_tools", build.student)
        assert kept.title == "Cut the 3/4 in yellow-poplar to rough length"

    def test_htmx_is_shown_the_next_step_in_its_place(self, as_student, url):
        answered = as_student.post(
            url("step-mark", "rough_cut"),
            {"done": "1", "page": "steps"},
            headers={"HX-Request": "true"},
        )

        assert answered.context["page"].now.step.key == "flatten"
        assert "Done: Cut the 3/4 in yellow-poplar" in words(answered)
        assert "Next: Joint one face" in words(answered)

    def test_where_several_ways_are_open_one_has_to_be_chosen(
        self, as_student, build, url, saw
    ):
        publish(build, step("rip", **SAW, other_ways=[{"machine": "hand_tools"}]))
        sign_off(build.student, saw)
        silent = tick(as_student, url, "rip")
        unknown = tick(as_student, url, "rip", machine="jointer")
        chosen = tick(as_student, url, "rip", machine="hand_tools")

        assert (silent.status_code, unknown.status_code) == (422, 422)
        assert "Choose how it was done" in words(silent)
        assert chosen.status_code == 302
        assert build.marks.get().machine == "hand_tools"

    def test_twice_is_once(self, as_student, build, url):
        tick(as_student, url, "rough_cut")

        assert tick(as_student, url, "rough_cut").status_code == 302
        assert build.marks.count() == 1

    def test_two_taps_that_saw_the_same_page_are_once(self, build, student):
        """Both were asked for before the other was kept."""
        machines = progress.machines_for(
            build.shop_class.shop_id, [student.pk], today=timezone.localdate()
        )
        solution = adapters.solve_build(build, ())
        standing = progress.standings(build, solution, marks=(), machines=machines)[0]
        for _ in range(2):
            actions.mark_done(build, standing, by=student)

        assert build.marks.count() == 1

    @pytest.mark.parametrize("page", ["step", "steps"])
    def test_a_machine_without_a_sign_off_cannot_be_ticked(
        self, as_student, build, url, saw, page
    ):
        publish(build, step("rip", **SAW))
        shown = as_student.get(url("build-step", "rip"))
        answered = tick(as_student, url, "rip", machine="table_saw", page=page)

        assert "Mark as done" not in words(shown)
        assert answered.status_code == 422
        assert "not signed off for the table saw" in words(answered).lower()
        assert not build.marks.exists()

    @pytest.mark.parametrize(
        "more",
        [
            {"act": "withdrawn"},
            {"lapses_on": timezone.localdate() - timedelta(days=1)},
        ],
    )
    def test_nor_after_it_was_withdrawn_or_lapsed(
        self, as_student, build, url, saw, more
    ):
        publish(build, step("rip", **SAW))
        sign_off(build.student, saw)
        sign_off(build.student, saw, **more)

        assert tick(as_student, url, "rip").status_code == 422

    def test_nor_at_a_machine_that_was_retired(self, as_student, build, url, saw):
        publish(build, step("rip", **SAW))
        sign_off(build.student, saw)
        Machine.objects.update(retired_at=timezone.now())
        answered = tick(as_student, url, "rip")

        assert answered.status_code == 422
        assert "This shop has no table saw" in words(answered)

    def test_what_remains_open_is_offered_instead(self, as_student, build, url, saw):
        publish(build, step("rip", "shelf", **SAW), step("plane", "left_side"))
        card = as_student.get(url("build-step", "rip")).context["card"]

        assert [s.key for s in card.instead] == ["plane"]

    def test_a_step_that_measures_is_not_done_before_it_is_logged(
        self, as_student, build, url
    ):
        publish(build, step("log", measures=["stock:poplar34", "stock:ply14"]))
        before = tick(as_student, url, "log")
        log_stock(build)
        after = tick(as_student, url, "log")

        assert before.status_code == 422
        assert after.status_code == 302

    def test_not_saying_whether_it_is_done_is_refused(self, as_student, url, build):
        answered = as_student.post(url("step-mark", "rough_cut"), {"done": "maybe"})

        assert answered.status_code == 422
        assert not build.marks.exists()


class TestMovingBack:
    def test_the_history_keeps_both(self, as_student, build, url):
        tick(as_student, url, "rough_cut")
        answered = as_student.post(
            url("step-mark", "rough_cut"), {"done": "0", "note": "Too short"}
        )
        page = as_student.get(url("build-step", "rough_cut"))

        assert answered["Location"] == url("build-step", "rough_cut")
        assert [m.done for m in build.marks.all()] == [True, False]
        assert "“Too short”" in words(page)
        assert not page.context["card"].standing.is_done

    def test_it_says_which_steps_rest_on_it(self, as_student, build, url):
        for key in ("rough_cut", "flatten"):
            tick(as_student, url, key)
        as_student.post(url("step-mark", "rough_cut"), {"done": "0"})
        page = as_student.get(url("build-step", "rough_cut"))

        assert [s.key for s in page.context["card"].rests] == ["flatten"]
        assert "Done after it, and resting on it" in words(page)

    def test_what_is_not_done_is_not_moved_back(self, as_student, build, url):
        as_student.post(url("step-mark", "rough_cut"), {"done": "0"})

        assert not build.marks.exists()

    def test_a_note_too_long_is_kept_in_its_field(self, as_student, build, url):
        tick(as_student, url, "rough_cut")
        answered = as_student.post(
            url("step-mark", "rough_cut"), {"done": "0", "note": "x" * 401}
        )

        assert answered.status_code == 422
        assert "At most 400 characters" in words(answered)
        assert "x" * 401 in words(answered)
        assert build.marks.count() == 1


class TestStaff:
    def test_those_who_may_log_mark_and_move_back(
        self, client_of, shop_class, build, url
    ):
        helper = help_in(shop_class, "may_log")
        client = client_of(helper)
        tick(client, url, "rough_cut")
        answered = client.post(url("step-mark", "rough_cut"), {"done": "0"})

        assert answered.status_code == 302
        assert {m.by for m in build.marks.all()} == {helper}

    def test_they_cannot_tick_past_a_missing_sign_off(
        self, as_instructor, build, url, saw
    ):
        publish(build, step("rip", **SAW))

        assert tick(as_instructor, url, "rip").status_code == 422

    def test_others_read_without_any_form(self, client_of, shop_class, build, url):
        rights = [right for right in RIGHTS if right != "may_log"]
        client = client_of(help_in(shop_class, *rights))
        mark(build, "rough_cut")
        pages = [client.get(url("build-steps")), client.get(url("build-step", "rip"))]

        for page in pages:
            assert page.status_code == 200
            assert f'action="{url("step-mark", "rough_cut")}"' not in words(page)
            assert "Mark as done" not in words(page)
        assert tick(client, url, "flatten").status_code == 403

    def test_a_classmate_sees_nothing(self, client_of, classmate, url):
        client = client_of(classmate)

        assert client.get(url("build-steps")).status_code == 404
        assert tick(client, url, "rough_cut").status_code == 404

    def test_in_an_archived_class_nothing_is_marked(self, as_student, shop_class, url):
        shop_class.archived_at = timezone.now()
        shop_class.save()
        page = words(as_student.get(url("build-steps")))

        assert "Mark as done" not in page
        assert "Raise a hand" not in page
        assert tick(as_student, url, "rough_cut").status_code == 403
