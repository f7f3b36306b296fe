"""A build's steps on its pages: what is shown, and what keeps a step waiting."""

import pytest
from django.urls import reverse
from django.utils import timezone

from projects.engine.fit.advice import Target
from projects.models import Reading
from tests.factories import OPENING, SHELF_CUT, MachineFactory, log, log_stock, sign_off
from tests.projects.views.step_plans import mark, publish, step, tick, words


@pytest.fixture
def saw(shop_class):
    """The shop's table saw."""
    return MachineFactory(shop=shop_class.shop)


@pytest.fixture
def url(build):
    """Give an address of the build: url("build-step", "rip")."""
    return lambda name, *args: reverse(name, args=[build.pk, *args])


class TestTheSteps:
    def test_the_step_to_do_next_comes_first_and_every_step_below(
        self, as_student, build, url
    ):
        mark(build, "rough_cut")
        answered = as_student.get(url("build-steps"))
        page = answered.context["page"]

        assert page.now.step.key == "flatten"
        assert (page.done, page.total) == (1, 23)
        assert [row.mark for row in page.stages[0].rows][:3] == ["done", "todo", "wait"]
        assert page.stages[0].rows[2].words == "waits for step 2"
        text = words(answered)
        assert text.index("Joint one face") < text.index("3. Plane the 3/4 in")

    def test_a_dozen_things_cost_no_more_queries(
        self, as_student, build, url, saw, django_assert_max_num_queries
    ):
        log_stock(build)
        sign_off(build.student, saw)
        for key in ("rough_cut", "flatten"):
            mark(build, key)

        with django_assert_max_num_queries(10):
            as_student.get(url("build-steps"))
        with django_assert_max_num_queries(10):
            as_student.get(url("build-step", "rip"))

    def test_htmx_is_given_the_live_part_alone(self, as_student, url):
        for name, args, root in (
            ("build-steps", (), "steps-live"),
            ("build-step", ("rip",), "step-live"),
        ):
            answered = as_student.get(url(name, *args), headers={"HX-Request": "true"})

            assert answered.content.strip().startswith(f'<div id="{root}"'.encode())
            assert "HX-Request" in answered["Vary"]

    def test_when_all_is_done_it_says_so(self, as_student, build, url):
        publish(build, step("rip"))
        mark(build, "rip")

        assert "Every step is done" in words(as_student.get(url("build-steps")))

    def test_a_step_that_a_newer_revision_dropped_is_told_apart(
        self, as_student, build, url
    ):
        mark(build, "rough_cut")
        publish(build, step("rip"))
        answered = as_student.get(url("build-steps"))

        assert [m.step for m in answered.context["page"].dropped] == ["rough_cut"]
        assert answered.context["page"].done == 0
        assert "Steps that this revision has no more" in words(answered)

    def test_readings_that_cannot_be_built_are_told(
        self, as_student, build, student, url
    ):
        Reading.objects.create(
            build=build,
            target="part:seat",
            point=1,
            typed="3000 mm",
            mm=3000,
            unit="mm",
            instrument="caliper",
            at=timezone.now(),
            by=student,
        )
        pages = [
            as_student.get(url("build-steps")),
            as_student.get(url("build-step", "rip")),
            tick(as_student, url, "rough_cut"),
        ]

        for page in pages:
            assert "build_broken" in page.templates[0].name
        assert not build.marks.exists()

    def test_a_hostile_title_and_note_are_escaped(self, as_student, build, url):
        bad = "<script>alert(1)</script>"
        publish(build, step("rip", title=bad, note=bad))
        mark(build, "rip")
        mark(build, "rip", done=False)

        for page in (url("build-steps"), url("build-step", "rip")):
            assert b"<script>alert" not in as_student.get(page).content


class TestOneStep:
    def test_cautions_come_before_the_title(self, as_student, url):
        text = words(as_student.get(url("build-step", "rip")))

        assert text.index("guard and riving knife on") < text.index("<h1>Rip the left")

    def test_the_cautions_of_the_way_that_is_open_are_told_too(self, as_student, url):
        card = as_student.get(url("build-step", "rip")).context["card"]

        assert [way.key for way in card.open_ways] == ["hand_tools"]
        assert any(c.text.startswith("Hand tools") for c in card.cautions)

    def test_each_way_says_why_it_is_not_open(self, as_student, url, saw):
        card = as_student.get(url("build-step", "rip")).context["card"]

        assert [(way.key, way.why_not) for way in card.ways] == [
            ("table_saw", "not signed off for it"),
            ("band_saw", "no band saw in this shop"),
            ("hand_tools", ""),
        ]

    def test_a_mirrored_pair_with_the_same_numbers_is_told_as_one(
        self, as_student, build, url
    ):
        log_stock(build)
        card = as_student.get(url("build-step", "dado_shelf_left")).context["card"]
        cut = card.parts[0].cuts[0]

        assert card.parts[0].names == ("Left side", "Right side")
        assert len(card.parts) == 1
        assert "the right face of Left side and the left face of Right" in cut.where
        assert cut.lines[0].shown.text == "0.749"

    def test_a_pair_of_boards_of_two_thicknesses_is_told_apart(
        self, as_student, build, url
    ):
        publish(build, step("rip", "left_side", "right_side"))
        log_stock(build)
        log(build, Target(kind="part", key="left_side"), "0.730")
        card = as_student.get(url("build-step", "rip")).context["card"]

        assert [part.names for part in card.parts] == [("Left side",), ("Right side",)]
        assert card.parts[0].mirror_of == "Right side"

    def test_what_rests_on_a_thickness_nobody_measured_says_so(
        self, as_student, build, url
    ):
        publish(build, step("rip", "shelf"))
        sizes = as_student.get(url("build-step", "rip")).context["card"].parts[0].sizes

        assert all(line.why.startswith("from the plan") for line in sizes)

    def test_what_is_set_at_the_machine_stands_above_the_sizes(
        self, as_student, build, url
    ):
        log_stock(build)
        publish(build, step("crosscut", "seat", machine="hand_tools"))
        answered = as_student.get(url("build-step", "crosscut"))
        way = answered.context["card"].settings[0]
        said = [bit.shown for line in way.settings[0].what for bit in line if bit.shown]

        assert way.machine == "Hand tools"
        assert [shown.whole for shown in said] == ["14"]
        assert way.settings[0].drawing.startswith("<svg")
        text = words(answered)
        assert text.index("Set up: Hand tools") < text.index("<h3>Seat")

    def test_the_numbers_of_a_blocked_step_are_not_ready(self, as_student, build, url):
        log_stock(build)
        card = as_student.get(url("build-step", "dado_shelf_left")).context["card"]

        assert card.reasons
        assert {line.why for line in card.parts[0].cuts[0].lines} == {"not yet"}
        assert {setting.why for way in card.settings for setting in way.settings} == {
            "not yet"
        }

    def test_what_waits_for_the_dry_fit_links_to_where_it_is_logged(
        self, as_student, build, url
    ):
        log_stock(build)
        answered = as_student.get(url("build-step", "crosscut_fitted"))
        card = answered.context["card"]

        assert card.reasons[-1].kind == "dry_fit"
        assert "?log=distance%3Aopening" in words(answered)
        assert any("don't cut before" in line.why for line in card.parts[0].sizes)

    def test_one_end_of_the_dry_fit_lets_nothing_be_ticked_or_cut(
        self, as_student, build, url
    ):
        steps = [step("dry", stage="dry_fit", measures=["opening"])]
        publish(build, *steps, step("cut", "back_rail", stage="fitted"))
        log_stock(build)
        log(build, OPENING, "34 1/2", instrument="tape")
        measuring = as_student.get(url("build-step", "dry"))
        cutting = as_student.get(url("build-step", "cut")).context["card"]

        assert not measuring.context["card"].standing.can_be_ticked
        assert "Opening between the sides (the other end too)" in words(measuring)
        assert "dry_fit" in [block.kind for block in cutting.standing.blocks]

        log(build, OPENING, "34 1/2", "34 1/2", instrument="tape")

        card = as_student.get(url("build-step", "dry")).context["card"]
        assert card.standing.can_be_ticked

    def test_a_doubted_reading_is_named_and_can_be_measured_again(
        self, as_student, build, url
    ):
        publish(build, step("sand", "shelf", stage="sanding"))
        log_stock(build)
        log(build, OPENING, "34 1/2", "34 1/2")
        log(build, SHELF_CUT, "34")
        answered = as_student.get(url("build-step", "sand"))

        assert answered.context["card"].reasons[0].kind == "doubt"
        assert "Measure it again" in words(answered)
        row = as_student.get(url("build-steps")).context["page"].stages[0].rows[0]
        assert (row.mark, row.words[:16]) == ("doubt", "reading in doubt")

    def test_no_such_step_is_not_found(self, as_student, url):
        assert as_student.get(url("build-step", "none")).status_code == 404
        assert tick(as_student, url, "none").status_code == 404
