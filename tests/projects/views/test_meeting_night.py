"""A meeting's page: who is there, what runs, who does what next."""

import json
import re
import time
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from projects import planning_jobs
from projects.engine.meeting.faults import Fault, faults
from projects.engine.meeting.records import MeetingPlan as EnginePlan
from projects.meeting_night import evening_of, minute_of, night_of, old_plan, turns_of
from projects.models import (
    Meeting,
    MeetingPlan,
    Outage,
    Presence,
    SignOff,
    StepMark,
)
from projects.models.append_only import AppendOnlyError
from projects.night_tasks import MOST_TASKS
from tests.factories import (
    MachineFactory,
    ShopClassFactory,
    enrol,
    help_in,
    plan_data,
    sign_off,
)
from tests.projects.views.step_plans import publish, step, words

HTMX = {"HX-Request": "true"}
STEPS = [
    step("saw", "shelf", machine="table_saw"),
    step("sand", "shelf", machine="sander"),
    step("oil", "shelf", machine="none", stage="finish"),
]


@pytest.fixture(autouse=True)
def _quick(monkeypatch):
    """Plan at once and shortly, with no job left over from another test."""
    monkeypatch.setattr(planning_jobs, "_SHELF", planning_jobs._Shelf())
    monkeypatch.setattr(planning_jobs, "_in_background", lambda work: work())
    monkeypatch.setattr(planning_jobs, "FIRST_SECONDS", 0.3)
    monkeypatch.setattr(planning_jobs, "ANEW_SECONDS", 0.2)


@pytest.fixture
def shop_class(db):
    """A class that saws, sands and oils a shelf."""
    document = json.dumps(plan_data() | {"steps": STEPS})
    return ShopClassFactory(
        revision__document=document, revision__plan__owner__name="Ottoline Varga"
    )


@pytest.fixture
def saw(shop_class):
    return MachineFactory(shop=shop_class.shop, setup_minutes=3)


@pytest.fixture
def sander(shop_class):
    return MachineFactory(shop=shop_class.shop, kind="sander", most_people=2)


@pytest.fixture
def builds(shop_class, build, saw, sander):
    """Four students, all signed off on both machines."""
    names = ("Cosimo Bellwether", "Ilse Marrow", "Teodor Quill")
    found = [build, *(enrol(shop_class, name=name) for name in names)]
    for each in found:
        sign_off(each.student, saw)
        sign_off(each.student, sander)
    return found


@pytest.fixture
def meeting(shop_class):
    """A meeting that began half an hour ago."""
    starts = timezone.now() - timedelta(minutes=30)
    return Meeting.objects.create(shop_class=shop_class, starts_at=starts, minutes=120)


@pytest.fixture
def url(meeting):
    return lambda name="meeting-night": reverse(name, args=[meeting.pk])


@pytest.fixture
def plan(as_instructor, url):
    """Press the button; return the plan."""

    def pressed(**data):
        assert as_instructor.post(url("meeting-plan"), data).status_code == 302
        return MeetingPlan.objects.last()

    return pressed


def tick(build, key, **more):
    given = {"title": key, "done": True, "at": timezone.now(), "by": build.student}
    return StepMark.objects.create(build=build, step=key, **given | more)


def say(client, url, build, state, **more):
    data = {"build": build.pk, "state": state}
    return client.post(url("meeting-presence"), data, **more)


def of_build(plan, build):
    return [turn for turn in plan.turns if turn["build"] == build.pk]


class TestThePlan:
    def test_it_keeps_every_rule(self, plan, builds, meeting):
        made = plan()
        evening = evening_of(meeting, now=made.at)
        turns = turns_of(made, meeting)
        found = EnginePlan(turns=turns, value=0, bound=0, is_proven=False)

        assert len(turns) == 12
        assert faults(found, night_of(evening)) == ()
        assert min(turn.start for turn in turns) == minute_of(meeting, made.at)

    @pytest.mark.parametrize("most", [1, 2])
    def test_no_more_people_are_at_a_machine_than_were_set(
        self, plan, builds, saw, most
    ):
        saw.most_people = most
        saw.save()
        turns = [t for t in plan().turns if t["machine"] == saw.pk]
        at_once = [
            sum(t["start"] <= minute < t["end"] for t in turns) for minute in range(90)
        ]

        assert len(turns) == 4
        assert max(at_once) == most

    def test_one_with_a_fault_is_never_kept(self, plan, builds, monkeypatch, caplog):
        wrong = Fault(kind="people", message="too many people at a machine", turns=())
        monkeypatch.setattr(planning_jobs, "faults", lambda plan, night: (wrong,))

        assert plan() is None
        assert "too many people" in caplog.text

    def test_the_page_says_that_it_failed(
        self, plan, builds, monkeypatch, as_instructor, url
    ):
        def fails(*_args, **_more):
            raise RuntimeError

        monkeypatch.setattr("projects.engine.meeting.solve.solve", fails)
        plan()

        assert "No new plan was made." in words(as_instructor.get(url()))

    def test_it_is_shown_with_clock_times_and_its_bound(
        self, plan, builds, as_instructor, url
    ):
        made = plan()
        page = as_instructor.get(url())
        text = words(page)

        assert len(page.context["page"].plan.people) == 4
        assert "The plan is from" in text
        assert "since then" not in text
        bound = page.context["page"].plan.bound
        assert bound.startswith(
            "No plan can do more" if made.bound > made.value else "P"
        )
        assert bound in text
        assert "<svg" in text
        assert "All 12 turns as a list" in text

    def test_before_the_meeting_it_is_for_the_whole_of_it(self, plan, builds, meeting):
        Meeting.objects.filter(pk=meeting.pk).update(
            starts_at=timezone.now() + timedelta(days=2)
        )
        meeting.refresh_from_db()
        made = plan()

        assert min(turn.start for turn in turns_of(made, meeting)) == 0

    def test_nothing_is_planned_once_it_is_over(self, plan, builds, meeting):
        Meeting.objects.update(starts_at=timezone.now() - timedelta(days=1))

        assert plan() is None

    def test_a_student_is_planned_a_few_steps_ahead(self, builds, meeting):
        people = evening_of(meeting, now=timezone.now()).people

        assert all(len(p.work.tasks) == 3 <= MOST_TASKS for p in people)

    def test_steps_without_a_sign_off_are_told_apart(
        self, plan, builds, sander, as_instructor, url
    ):
        sign_off(builds[0].student, sander, act=SignOff.Act.WITHDRAWN)
        made = plan()

        assert [turn["step"] for turn in of_build(made, builds[0])] == ["saw"]
        assert "not signed off for the sander" in words(as_instructor.get(url()))

    def test_done_steps_are_no_tasks(self, plan, builds):
        tick(builds[0], "saw")

        assert {turn["step"] for turn in of_build(plan(), builds[0])} == {"sand", "oil"}

    def test_it_is_made_in_the_background(self, transactional_db, monkeypatch):
        monkeypatch.undo()
        monkeypatch.setattr(planning_jobs, "_SHELF", planning_jobs._Shelf())
        document = json.dumps(plan_data() | {"steps": STEPS[2:]})
        shop_class = ShopClassFactory.create(revision__document=document)
        enrol(shop_class)
        meeting = Meeting.objects.create(
            shop_class=shop_class, starts_at=timezone.now()
        )
        evening = evening_of(meeting, now=timezone.now())
        job = planning_jobs.start(
            planning_jobs.Order(
                meeting=meeting,
                night=night_of(evening),
                old=None,
                places=evening.places,
                seconds=0.2,
                at=evening.now,
                by=shop_class.revision.plan.owner,
            )
        )
        until = time.monotonic() + 20
        while job.is_on and time.monotonic() < until:
            time.sleep(0.02)

        assert job.state == "done"
        assert planning_jobs.find(meeting.pk) is job
        assert len(meeting.meeting_plans.get().turns) == 1


class TestWhoHasNothingPlanned:
    def test_the_table_says_why(self, plan, builds, saw, as_instructor, url):
        sign_off(builds[0].student, saw, act=SignOff.Act.WITHDRAWN)
        plan()

        assert "Saw: not signed off for the table saw</td>" in words(
            as_instructor.get(url())
        )


class TestProgress:
    @pytest.fixture
    def job(self, meeting):
        job = planning_jobs.Job(
            seconds=20, state="runs", started=time.monotonic() - 7.2
        )
        planning_jobs._SHELF.jobs[meeting.pk] = job
        return job

    def test_the_page_says_how_long_it_takes_at_most(
        self, job, builds, as_instructor, url
    ):
        text = words(as_instructor.get(url()))

        assert "Planning: 7 s of about 20 s at most." in text
        assert "Plan the meeting<" not in text

    def test_an_open_page_asks_for_that_alone(
        self, job, builds, as_instructor, url, django_assert_max_num_queries
    ):
        with django_assert_max_num_queries(6):
            answered = as_instructor.get(url(), headers=HTMX)

        assert answered.headers["HX-Retarget"] == "#night-job"
        assert words(answered).startswith('<div id="night-job"')

    def test_then_it_gets_the_plan(self, job, plan, builds, as_instructor, url):
        job.state = "done"
        text = words(as_instructor.get(url(), headers=HTMX))

        assert "HX-Retarget" not in as_instructor.get(url(), headers=HTMX).headers
        assert 'id="night-plan"' in text
        assert "<html" not in text

    def test_a_second_press_starts_no_second_job(self, job, plan, builds, meeting):
        assert plan() is None
        assert planning_jobs.find(meeting.pk) is job


class TestPresence:
    def test_a_tap_is_one_new_row(self, builds, as_instructor, instructor, url):
        answered = say(as_instructor, url, builds[0], "late")
        row = Presence.objects.get()

        assert answered.status_code == 302
        assert (row.build, row.state, row.by) == (builds[0], "late", instructor)

    def test_the_same_tap_again_is_none(self, builds, as_instructor, url):
        say(as_instructor, url, builds[0], "present")
        say(as_instructor, url, builds[0], "away")
        say(as_instructor, url, builds[0], "away")

        assert [row.state for row in Presence.objects.all()] == ["away"]

    def test_rows_are_only_added(self, builds, as_instructor, url):
        for state in ("away", "present"):
            say(as_instructor, url, builds[0], state)

        assert [row.state for row in Presence.objects.all()] == ["away", "present"]
        with pytest.raises(AppendOnlyError):
            Presence.objects.all().delete()

    def test_htmx_gets_the_row_and_what_the_plan_says_now(
        self, plan, builds, as_instructor, url
    ):
        plan()
        text = words(say(as_instructor, url, builds[0], "away", headers=HTMX))

        assert text.startswith(f'<li id="p{builds[0].pk}"')
        assert 'hx-swap-oob="true"' in text
        assert f"since then: {builds[0].student.name} is away." in text

    def test_what_is_no_state_is_refused(self, builds, as_instructor, url):
        answered = say(as_instructor, url, builds[0], "asleep")

        assert answered.status_code == 422
        assert "Nothing was kept." in words(answered)

    def test_a_build_of_another_class_is_not_found(
        self, builds, as_instructor, url, other_class
    ):
        answered = say(as_instructor, url, enrol(other_class), "away")

        assert answered.status_code == 404


class TestOutages:
    def test_rows_are_only_added(self, saw, as_instructor, url):
        for down in "1100":
            as_instructor.post(url("machine-outage"), {"machine": saw.pk, "down": down})

        assert [row.down for row in Outage.objects.all()] == [True, False]

    def test_a_machine_that_is_down_gets_nobody(
        self, builds, plan, saw, as_instructor, url
    ):
        data = {"machine": saw.pk, "down": "1"}
        text = words(as_instructor.post(url("machine-outage"), data, headers=HTMX))

        assert text.startswith(f'<li id="m{saw.pk}"')
        assert "down since" in text
        assert "the table saw is down" in text
        assert plan() is None

    def test_what_it_had_begun_does_not_stay(self, builds, plan, saw, sander, url):
        tick(builds[0], "saw")
        plan()
        Outage.objects.create(
            machine=saw, down=True, at=timezone.now(), by=saw.shop.owner
        )

        assert {turn["machine"] for turn in plan().turns} == {sander.pk, None}

    def test_hand_tools_are_told_with_longer_steps_and_no_change(
        self, shop_class, as_instructor, url
    ):
        MachineFactory(shop=shop_class.shop, kind="hand_tools", step_minutes=12)
        text = words(as_instructor.get(url()))

        assert (
            "12 min a step, 48 for milling, 36 for joinery and fitted parts, "
            "24 for shaping and sanding</p>"
        ) in text

    def test_a_machine_of_another_shop_is_not_found(self, as_instructor, url):
        data = {"machine": MachineFactory.create().pk, "down": "1"}

        assert as_instructor.post(url("machine-outage"), data).status_code == 404


class TestPlanningAnew:
    @pytest.fixture
    def begun(self, plan, builds, meeting):
        """A plan of five minutes ago."""
        made = plan()
        at = made.at - timedelta(minutes=5)
        return MeetingPlan.objects.create(
            meeting=meeting,
            turns=made.turns,
            value=made.value,
            bound=made.bound,
            at=at,
            by=made.by,
        )

    def test_what_has_begun_stays(self, begun, plan, meeting):
        first = {t for t in turns_of(begun, meeting) if t.start <= 26}
        anew = turns_of(plan(), meeting)

        assert first
        assert first <= set(anew)

    def test_who_is_late_or_away_is_left_out(
        self, begun, plan, builds, as_instructor, url
    ):
        say(as_instructor, url, builds[0], "late")
        say(as_instructor, url, builds[1], "away")
        made = plan()

        assert {turn["build"] for turn in made.turns} == {b.pk for b in builds[2:]}

    def test_who_has_come_is_planned(self, builds, plan, as_instructor, url):
        say(as_instructor, url, builds[0], "late")
        plan()
        say(as_instructor, url, builds[0], "present")

        assert len(of_build(plan(), builds[0])) == 3

    def test_what_should_be_done_and_is_not_ticked_is_planned_again(
        self, plan, builds, meeting, as_instructor, url
    ):
        made = plan()
        later = made.at - timedelta(minutes=20)
        old = MeetingPlan.objects.create(
            meeting=meeting, turns=made.turns, value=1, bound=1, at=later, by=made.by
        )
        overdue = [t for t in turns_of(old, meeting) if t.end <= 30]
        text = words(as_instructor.get(url()))
        anew = {(t.student, t.task): t.start for t in turns_of(plan(), meeting)}

        assert overdue
        assert "should be done by now" in text
        assert all(anew[turn.student, turn.task] >= 30 for turn in overdue)

    def test_the_page_says_what_changed(self, begun, builds, saw, as_instructor, url):
        tick(builds[0], "saw")
        as_instructor.post(url("machine-outage"), {"machine": saw.pk, "down": "1"})
        text = words(as_instructor.get(url()))

        assert "Table saw is down; 1 step was ticked" in text
        assert "Plan anew" in text

    def test_a_ticked_step_counts_as_done_at_the_meeting(self, begun, builds, meeting):
        tick(builds[0], "saw")
        evening = evening_of(meeting, now=timezone.now())
        [student] = [s for s in night_of(evening).students if s.done]

        assert (student.key, student.done) == (str(builds[0].pk), 1)
        assert old_plan(evening) is not None


class TestNextForYou:
    def test_it_says_what_when_and_where(self, plan, builds, as_student):
        plan()
        text = words(as_student.get(reverse("build-steps", args=[builds[0].pk])))

        assert "ext for you, about" in text or "Now for you, until about" in text
        assert "Saw</a> at the table saw" in text

    def test_a_step_that_is_done_is_not_next(self, plan, builds, as_student):
        plan()
        tick(builds[0], "saw")
        text = words(as_student.get(reverse("build-steps", args=[builds[0].pk])))

        assert "Sand</a> at the sander" in text

    def planned_at(self, meeting, build, *turns):
        """Keep a plan of now: (step, start, end) at the bench, in minutes from now."""
        rows = [
            {
                "build": build.pk,
                "step": key,
                "machine": None,
                "unit": None,
                "place": "",
                "start": start,
                "end": end,
            }
            for key, start, end in turns
        ]
        MeetingPlan.objects.create(
            meeting=meeting,
            turns=rows,
            value=1,
            bound=1,
            at=timezone.now(),
            by=meeting.shop_class.revision.plan.owner,
        )

    def test_what_waits_for_an_overdue_step_is_not_now(
        self, builds, meeting, as_student
    ):
        self.planned_at(meeting, builds[0], ("saw", -20, -10), ("sand", -5, 9))
        text = words(as_student.get(reverse("build-steps", args=[builds[0].pk])))

        assert "Still for you, planned until about" in text
        assert "Saw</a> at the bench" in text
        assert "Now for you" not in text

    def test_what_is_on_goes_before_what_is_overdue(self, builds, meeting, as_student):
        publish(builds[0], step("saw", "shelf"), step("plane", "left_side"))
        self.planned_at(meeting, builds[0], ("saw", -20, -10), ("plane", -5, 9))
        text = words(as_student.get(reverse("build-steps", args=[builds[0].pk])))

        assert re.search(r"Now for you, until about .*Plane</a> at the bench", text)

    def test_a_blocked_step_says_what_is_open_first(self, builds, meeting, as_student):
        self.planned_at(meeting, builds[0], ("sand", -5, 9))
        url = reverse("build-step", args=[builds[0].pk, "saw"])
        text = words(as_student.get(reverse("build-steps", args=[builds[0].pk])))

        assert "Now for you" not in text
        assert f'It isn\'t open yet; first: <a href="{url}">Saw</a>' in text

    def test_nothing_is_for_now_above_cannot_be_done_yet(
        self, plan, builds, saw, as_student
    ):
        plan()
        sign_off(builds[0].student, saw, act=SignOff.Act.WITHDRAWN)
        text = words(as_student.get(reverse("build-steps", args=[builds[0].pk])))

        assert "Can't be done yet" in text
        assert "It isn't open yet." in text
        assert "Now for you" not in text
        assert "Next for you" not in text

    def test_nothing_is_said_without_a_plan(self, builds, meeting, as_student):
        text = words(as_student.get(reverse("build-steps", args=[builds[0].pk])))

        assert "for you" not in text

    def test_nor_once_the_meeting_is_over(self, plan, builds, meeting, as_student):
        plan()
        Meeting.objects.update(minutes=10)
        text = words(as_student.get(reverse("build-steps", args=[builds[0].pk])))

        assert "for you" not in text

    def test_the_steps_cost_no_more_queries(
        self, plan, builds, as_student, django_assert_max_num_queries
    ):
        plan()
        with django_assert_max_num_queries(10):
            as_student.get(reverse("build-steps", args=[builds[0].pk]))


class TestWhoMay:
    def test_an_assistant_without_the_right_sees_no_buttons(
        self, builds, client_of, assistant, url
    ):
        page = client_of(assistant).get(url())

        assert page.status_code == 200
        assert "<button" not in words(page).partition("<main")[2]

    def test_one_with_it_may_write(self, builds, client_of, shop_class, url):
        client = client_of(help_in(shop_class, "may_log"))

        assert say(client, url, builds[0], "away").status_code == 302

    @pytest.mark.parametrize(
        "name", ["meeting-presence", "meeting-plan", "machine-outage"]
    )
    def test_nothing_is_written_in_an_archived_class(
        self, name, shop_class, as_instructor, url
    ):
        shop_class.archived_at = timezone.now()
        shop_class.save()

        assert as_instructor.post(url(name)).status_code == 403
        assert as_instructor.get(url()).status_code == 200

    def test_more_students_cost_no_more_queries(
        self, plan, builds, shop_class, as_instructor, url, django_assert_num_queries
    ):
        plan()
        with django_assert_num_queries(14):
            as_instructor.get(url())
        for _ in range(3):
            enrol(shop_class)
        with django_assert_num_queries(14):
            as_instructor.get(url())
