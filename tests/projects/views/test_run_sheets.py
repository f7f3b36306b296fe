"""A machine's run sheet: who stands on it, ticking, keeping, and what moved since."""

import re
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from projects import adapters
from projects.models import (
    CutMark,
    Meeting,
    Presence,
    RunSheet,
    ShopClass,
    StepMark,
)
from tests.factories import (
    PLYWOOD,
    POPLAR,
    MachineFactory,
    enrol,
    help_in,
    log,
    log_stock,
    sign_off,
)
from tests.full_class import full_class
from tests.projects.views.overview.things import HTMX, since, text

GROOVES = "groove_back_left"


@pytest.fixture
def saw(shop_class):
    """A table saw with a dado set."""
    return MachineFactory.create(
        shop=shop_class.shop,
        limits={
            "dado_blades": "1/16, 1/16",
            "dado_chippers": "1/16, 0.055",
            "dado_shims": "0.020, 0.012, 0.010, 0.008, 0.004",
        },
    )


def ready(build, saw, plywood="0.240"):
    """Bring a build to its grooves: stock measured, the steps before them done."""
    log(build, POPLAR, "0.742")
    log(build, PLYWOOD, plywood)
    if saw:
        sign_off(build.student, saw)
    for step in adapters.steps_of(adapters.plan_of(build.revision)):
        if step.key == GROOVES:
            break
        done(build, step.key)
    return build


def done(build, step):
    StepMark.objects.create(
        build=build, step=step, title=step, done=True, at=timezone.now(),
        by=build.student,
    )  # fmt: skip


def say(meeting, build, state):
    Presence.objects.create(
        meeting=meeting, build=build, state=state, at=timezone.now(), by=build.student
    )


@pytest.fixture
def meeting(shop_class):
    return Meeting.objects.create(shop_class=shop_class, starts_at=timezone.now())


@pytest.fixture
def url(saw, shop_class):
    return reverse("run-sheet", args=[shop_class.pk, saw.pk])


@pytest.fixture
def tick_url(saw, shop_class):
    return reverse("run-sheet-tick", args=[shop_class.pk, saw.pk])


def plain(html):
    words = re.sub(r"<(svg)\b.*?</\1>|<[^>]+>", " ", html, flags=re.DOTALL)
    return re.sub(r" ([,.:;])", r"\1", " ".join(words.split()))


def setups(page):
    """Return each setup's block of a page."""
    return re.findall(r'<section class="run-setup.*?</section>', page, re.DOTALL)


def left_out(page):
    return plain(page[page.index('id="left-out"') :]) if "left-out" in page else ""


def ticks(page, build):
    """Return the names of a student's cuts, in the order of the setups."""
    field = rf'name="build" value="{build.pk}"><input type="hidden" name="cut" value="'
    return re.findall(field + '([0-9a-f]+)"', page)


class TestTheList:
    def test_it_counts_who_has_a_step_open(
        self, as_instructor, shop_class, build, saw, meeting
    ):
        ready(build, saw)
        ready(enrol(shop_class, name="Ann"), None)
        away = ready(enrol(shop_class, name="Bo"), saw)
        say(meeting, away, "away")
        page = plain(
            text(as_instructor.get(reverse("run-sheet-list", args=[shop_class.pk])))
        )

        assert "Table saw 1 1" in page

    def test_other_pages_lead_to_it(self, as_instructor, shop_class):
        url = reverse("run-sheet-list", args=[shop_class.pk])
        for name in ("class-prints", "class-detail"):
            page = text(as_instructor.get(reverse(name, args=[shop_class.pk])))
            assert url in page


class TestTheSheet:
    def test_a_setup_says_what_to_set_and_for_whom(
        self, as_instructor, build, saw, url
    ):
        ready(build, saw)
        block = next(b for b in setups(text(as_instructor.get(url))) if "Groove" in b)
        said = plain(block)

        assert "Width 0.245 in" in said
        assert "from the near side of the blade" in said
        assert "Perpetua Lindqvale Left side" in said
        assert "step 11, " in said
        assert "<svg" in block

    def test_the_stack_is_told_piece_by_piece(self, as_instructor, build, saw, url):
        ready(build, saw)
        page = plain(text(as_instructor.get(url)))

        assert "Stack both outer blades" in page
        assert "Chippers: 1/16 in + 0.055 in" in page
        assert "Outer blades: 1/16 in + 1/16 in" in page

    def test_what_no_stack_reaches_says_the_nearest(
        self, as_instructor, build, saw, url
    ):
        saw.limits = {"dado_blades": "1/16, 1/16", "dado_chippers": "1/16, 1/8"}
        saw.save()
        ready(build, saw, "0.235")
        page = plain(text(as_instructor.get(url)))

        assert "The next narrower stack is 0.188 in." in page
        assert "The next wider stack is 0.250 in." in page
        assert "This width can't be reached" in page

    def test_alike_students_share_a_setup(
        self, as_instructor, shop_class, build, saw, url
    ):
        ready(build, saw, "0.240")
        ready(enrol(shop_class, name="Ann"), saw, "0.243")
        ready(enrol(shop_class, name="Bo"), saw, "0.260")
        blocks = map(plain, setups(text(as_instructor.get(url))))
        together = [block for block in blocks if "Cut: Ann," in block]

        assert together
        assert all("Cut: Perpetua" in block for block in together)
        assert not any("Cut: Bo," in block for block in together)
        assert any("A smaller tolerance parts them" in b for b in together)
        assert any(re.search("wanted: .*width 0.245 in", b) for b in together)

    def test_a_tighter_tolerance_parts_them_and_is_kept(
        self, as_instructor, shop_class, build, saw, url
    ):
        ready(build, saw, "0.240")
        ready(enrol(shop_class, name="Ann"), saw, "0.243")
        before = len(setups(text(as_instructor.get(url))))
        after = text(as_instructor.get(url + "?width=0.001&stop=&height="))

        assert len(setups(after)) > before
        assert "Slot width: 0.001 in, wider, never narrower" in after
        assert len(setups(text(as_instructor.get(url)))) == len(setups(after))

    @pytest.mark.parametrize(
        ("typed", "error"),
        [("wide", "Slot width: "), ("1/2", "At most 1/8 in (read: 1/2).")],
    )
    def test_a_tolerance_that_is_none_is_told_at_its_field(
        self, as_instructor, build, saw, url, typed, error
    ):
        answered = as_instructor.get(url, {"width": typed, "stop": "1/32"})
        page = text(answered)

        assert answered.status_code == 422
        assert re.search(rf'id="id_width_error">{re.escape(error)}', page)
        assert f'value="{typed}"' in page
        assert 'value="1/32"' in page

    def test_the_next_setup_says_what_changes(self, as_instructor, build, saw, url):
        ready(build, saw)
        page = text(as_instructor.get(url))

        if len(setups(page)) > 1:
            assert "run-change" in setups(page)[1]
        assert "run-change" not in setups(page)[0]

    def test_it_never_says_safe(self, as_instructor, build, saw, url):
        ready(build, saw)
        page = text(as_instructor.get(url))
        main = page[page.index("<main") : page.index("</main")]

        assert "safe" not in main.lower()
        assert "Slots at the table saw" in main

    def test_another_shops_machine_is_not_there(
        self, as_instructor, shop_class, other_class
    ):
        saw = MachineFactory.create(shop=other_class.shop)

        assert (
            as_instructor.get(
                reverse("run-sheet", args=[shop_class.pk, saw.pk])
            ).status_code
            == 404
        )


class TestWhoIsLeftOut:
    @pytest.mark.parametrize(
        ("fields", "words"),
        [
            (None, "no sign-off on record; all else is ready"),
            ({"act": "withdrawn", "note": "x"}, "the sign-off was withdrawn"),
            (
                {"lapses_on": timezone.localdate() - timedelta(days=1)},
                "the sign-off lapsed on",
            ),
        ],
    )
    def test_who_is_not_signed_off(self, as_instructor, build, saw, url, fields, words):
        ready(build, None)
        if fields:
            sign_off(build.student, saw, **fields)
        page = text(as_instructor.get(url))

        assert not setups(page)
        assert words in left_out(page)
        assert "Not signed off for this machine" in left_out(page)

    def test_a_sign_off_on_another_saw_does_not_count(
        self, as_instructor, build, saw, url
    ):
        ready(build, MachineFactory.create(shop=saw.shop, name="Old saw"))
        page = text(as_instructor.get(url))

        assert not setups(page)
        assert "no sign-off on record" in left_out(page)

    def test_whose_step_waits_for_an_earlier_one(self, as_instructor, build, saw, url):
        log_stock(build)
        sign_off(build.student, saw)
        out = left_out(text(as_instructor.get(url)))

        assert "Something comes first" in out
        assert "waits for step" in out

    @pytest.mark.parametrize(
        ("state", "words"), [("late", "comes later"), ("away", "away")]
    )
    def test_who_is_not_here(
        self, as_instructor, build, saw, url, meeting, state, words
    ):
        ready(build, saw)
        assert setups(text(as_instructor.get(url)))

        say(meeting, build, state)
        page = text(as_instructor.get(url))
        assert not setups(page)
        assert f"Perpetua Lindqvale: {words}; steps open here:" in left_out(page)

        say(meeting, build, "present")
        assert setups(text(as_instructor.get(url)))

    def test_another_meeting_can_be_asked_for(
        self, as_instructor, shop_class, build, saw, url
    ):
        ready(build, saw)
        later = Meeting.objects.create(
            shop_class=shop_class, starts_at=timezone.now() + timedelta(days=9)
        )
        say(later, build, "away")

        assert setups(text(as_instructor.get(url)))
        assert not setups(text(as_instructor.get(url, {"meeting": later.pk})))


class TestTicking:
    def test_a_tick_is_kept_and_taken_back(
        self, as_instructor, build, saw, url, tick_url
    ):
        ready(build, saw)
        cut = ticks(text(as_instructor.get(url)), build)[0]
        sent = {"build": build.pk, "cut": cut, "done": "1"}
        answered = as_instructor.post(tick_url, sent, headers=HTMX)
        page = text(answered)

        assert answered.status_code == 200
        assert page.lstrip().startswith('<div id="run-sheet"')
        assert 'aria-pressed="true"' in page
        assert {row.done for row in CutMark.objects.all()} == {True}

        made = CutMark.objects.count()
        as_instructor.post(tick_url, sent)
        assert CutMark.objects.count() == made

        as_instructor.post(tick_url, {**sent, "done": "0"})
        assert CutMark.objects.count() == 2 * made
        assert 'aria-pressed="true"' not in text(as_instructor.get(url))

    def test_without_htmx_it_goes_back_to_the_sheet(
        self, as_instructor, build, saw, url, tick_url
    ):
        ready(build, saw)
        cut = ticks(text(as_instructor.get(url)), build)[0]
        answered = as_instructor.post(
            tick_url, {"build": build.pk, "cut": cut, "done": "1"}
        )

        assert answered.status_code == 302
        assert answered.headers["Location"].startswith(url)

    def test_what_is_not_on_the_sheet_is_not_ticked(
        self, as_instructor, build, saw, tick_url
    ):
        ready(build, saw)
        answered = as_instructor.post(
            tick_url, {"build": build.pk, "cut": "abc", "done": "1"}, headers=HTMX
        )

        assert answered.status_code == 422
        assert "the sheet has changed" in text(answered)
        assert not CutMark.objects.exists()

    def test_when_all_is_cut_the_step_can_be_marked(
        self, as_instructor, build, saw, url, tick_url
    ):
        ready(build, saw)
        page = text(as_instructor.get(url))
        assert "Mark the step as done" not in page
        early = {"build": build.pk, "step": GROOVES, "done": "1"}
        assert as_instructor.post(tick_url, early).status_code == 422

        for cut in ticks(page, build):
            as_instructor.post(tick_url, {"build": build.pk, "cut": cut, "done": "1"})
        page = text(as_instructor.get(url))
        assert "Mark the step as done" in page

        as_instructor.post(tick_url, early)
        mark = build.marks.last()
        assert (mark.step, mark.machine) == (GROOVES, "table_saw")
        assert mark.note == "cut by the run sheet"
        assert "cut, step done" in plain(text(as_instructor.get(url)))

    def test_who_may_log_may_tick_and_nobody_else(
        self, client_of, shop_class, build, saw, url, tick_url, assistant
    ):
        ready(build, saw)
        helper = client_of(help_in(shop_class, "may_log"))
        cut = ticks(text(helper.get(url)), build)[0]
        sent = {"build": build.pk, "cut": cut, "done": "1"}

        assert not ticks(text(client_of(assistant).get(url)), build)
        assert client_of(assistant).post(tick_url, sent).status_code == 403
        assert client_of(build.student).post(tick_url, sent).status_code == 404
        assert helper.post(tick_url, sent).status_code == 302

    def test_an_archived_class_takes_none(
        self, as_instructor, build, saw, url, tick_url
    ):
        ready(build, saw)
        cut = ticks(text(as_instructor.get(url)), build)[0]
        ShopClass.objects.update(archived_at=timezone.now())
        sent = {"build": build.pk, "cut": cut, "done": "1"}

        assert as_instructor.post(tick_url, sent).status_code == 403
        assert as_instructor.post(url).status_code == 403
        assert not ticks(text(as_instructor.get(url)), build)


class TestKeeping:
    def test_a_later_reading_moves_somebody_and_says_so(
        self, as_instructor, shop_class, build, saw, url
    ):
        ready(build, saw, "0.240")
        ann = ready(enrol(shop_class, name="Ann"), saw, "0.241")
        ready(enrol(shop_class, name="Bo"), saw, "0.260")
        as_instructor.post(url)
        assert "nothing has moved since" in text(as_instructor.get(url))

        log(ann, PLYWOOD, "0.260")
        page = plain(text(as_instructor.get(url)))
        assert re.search(r"Ann moved from setup \d+ to \d+; wanted now: .*0\.265", page)
        assert "Perpetua Lindqvale moved" not in page

    def test_it_says_who_came_and_who_went(
        self, as_instructor, shop_class, build, saw, url, meeting
    ):
        ready(build, saw)
        as_instructor.post(url)
        say(meeting, build, "away")
        ready(enrol(shop_class, name="Ann"), saw)
        page = plain(text(as_instructor.get(url)))

        assert "Ann came in." in page
        assert "Perpetua Lindqvale is not here now." in page

    def test_lengths_are_kept_exactly_and_yesterday_is_over(
        self, as_instructor, build, saw, url, monkeypatch
    ):
        ready(build, saw)
        as_instructor.post(url)
        kept = RunSheet.objects.get()
        widths = {s["at"]["width"] for s in kept.setups if "width" in s["at"]}

        assert widths == {"6223/1000"}  # 0.245 in
        assert str(build.pk) in kept.setups[0]["builds"]

        tomorrow = timezone.now() + timedelta(days=1)
        monkeypatch.setattr("django.utils.timezone.now", lambda: tomorrow)
        assert "nothing has moved since" not in text(as_instructor.get(url))

    def test_keep_and_print_leads_to_the_pdf(self, as_instructor, build, saw, url):
        ready(build, saw)
        answered = as_instructor.post(url, {"paper": "a4"})

        assert RunSheet.objects.count() == 1
        assert answered.headers["Location"].endswith(".pdf?paper=a4")
        assert as_instructor.get(answered.headers["Location"]).content[:4] == b"%PDF"


class TestAsking:
    def test_nothing_changed_is_an_empty_answer(self, as_instructor, build, saw, url):
        ready(build, saw)
        token = since(text(as_instructor.get(url)))
        answered = as_instructor.get(url, {"since": token}, headers=HTMX)

        assert answered.status_code == 204
        assert "HX-Request" in answered.headers["Vary"]

    @pytest.mark.parametrize(
        "change",
        [
            lambda b, m, c: log(b, POPLAR, "0.750"),
            lambda b, m, c: say(m, b, "away"),
            lambda b, m, c: c.post(c.url),
            lambda b, m, c: c.get(c.url, {"width": "0.001"}),
            lambda b, m, c: CutMark.objects.create(
                build=b, step="x", setting="x", done=True, at=timezone.now(),
                by=b.student,
            ),
        ],
        ids=["a reading", "away", "kept", "tolerance", "a tick"],
    )  # fmt: skip
    def test_each_change_is_answered(
        self, change, as_instructor, build, saw, url, meeting
    ):
        ready(build, saw)
        token = since(text(as_instructor.get(url)))
        as_instructor.url = url
        change(build, meeting, as_instructor)
        answered = as_instructor.get(url, {"since": token}, headers=HTMX)

        assert answered.status_code == 200
        assert text(answered).lstrip().startswith('<div id="run-sheet"')


@pytest.mark.parametrize("name", ["run-sheet", "run-sheet-list"])
@pytest.mark.parametrize("students", [5, 30])
def test_queries_do_not_grow_with_the_class(
    name, students, db, client_of, django_assert_max_num_queries
):
    made = full_class(students)
    client = client_of(made.revision.plan.owner)
    saw = made.shop.machines.get(kind="table_saw")
    args = [made.pk] if name == "run-sheet-list" else [made.pk, saw.pk]
    url = reverse(name, args=args)
    client.get(url)
    if name == "run-sheet":
        client.post(url)
    with django_assert_max_num_queries(15):
        answered = client.get(url)

    assert answered.status_code == 200
