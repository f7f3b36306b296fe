"""Around a draft: who may write, plan files in and out, trying it, publishing it."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from projects import actions, drafting
from projects.engine import draft as engine
from projects.models import Draft, Plan
from tests.drafts import document, now, text, words
from tests.factories import plan_bytes


class TestWhoMay:
    def test_one_it_is_shared_with(self, draft, other, client_of):
        client = client_of(other)

        assert client.get(reverse("draft", args=[draft.plan_id])).status_code == 200
        assert draft.plan.title in text(client.get(reverse("plan-list")))

        drafting.unshare(draft.plan, other.username)

        assert client.get(reverse("draft", args=[draft.plan_id])).status_code == 404

    def test_the_owner_shares_it(self, draft, as_instructor, colleague):
        url = reverse("draft-editors", args=[draft.plan_id])
        as_instructor.post(url, {"username": colleague.username})

        assert colleague.name in text(as_instructor.get(url))

        as_instructor.post(url, {"op": "remove", "editor": colleague.username})

        assert colleague.name not in text(as_instructor.get(url))

    def test_a_name_nobody_has_is_told(self, draft, as_instructor):
        url = reverse("draft-editors", args=[draft.plan_id])
        answered = as_instructor.post(url, {"username": "nobody"})

        assert answered.status_code == 422
        assert "no instructor signs in as nobody" in text(answered)

    def test_only_the_owner_shares_it(self, draft, other, client_of):
        url = reverse("draft-editors", args=[draft.plan_id])

        assert client_of(other).get(url).status_code == 404


class TestAround:
    def test_a_plan_is_started(self, as_instructor, instructor):
        url = reverse("draft-start")
        answered = as_instructor.post(url, {"title": "Coat rack", "units": "mm"})
        plan = Plan.objects.get(title="Coat rack")

        assert answered.headers["Location"] == reverse("draft", args=[plan.pk])
        assert document(plan.draft)["units"] == "mm"
        assert "draft only" in text(as_instructor.get(reverse("plan-list")))
        to_draft = as_instructor.get(reverse("plan-detail", args=[plan.pk]))
        assert to_draft.headers["Location"] == reverse("draft", args=[plan.pk])

    def test_a_published_plan_is_edited(self, as_instructor, shop_class):
        plan = shop_class.revision.plan
        as_instructor.post(reverse("draft-edit", args=[plan.pk]))

        assert Draft.objects.get(plan=plan).based_on == shop_class.revision

    def test_a_plan_without_a_draft_has_no_draft_page(self, as_instructor, shop_class):
        url = reverse("draft", args=[shop_class.revision.plan_id])

        assert as_instructor.get(url).status_code == 404

    def test_the_plan_file_comes_to_the_byte(self, draft, as_instructor):
        answered = as_instructor.get(reverse("draft-file", args=[draft.plan_id]))

        assert answered.content == plan_bytes()

    def test_a_plan_file_is_brought_in(self, empty, as_instructor):
        url = reverse("draft-import", args=[empty.plan_id])
        file = SimpleUploadedFile("plan.json", plan_bytes())
        as_instructor.post(url, {"file": file})

        assert document(empty)["title"] == "Hall boot bench"

    @pytest.mark.parametrize("data", [b"{}", b"", b"\xff" * 9, b"x" * (2**20 + 1)])
    def test_a_wrong_one_is_told(self, data, empty, as_instructor):
        url = reverse("draft-import", args=[empty.plan_id])
        file = SimpleUploadedFile("plan.json", data)
        answered = as_instructor.post(url, {"file": file})

        assert answered.status_code == 422
        assert "Nothing was brought in." in text(answered)
        assert now(empty) == 1

    def test_a_trial_keeps_nothing(self, draft, as_instructor):
        url = reverse("draft-try", args=[draft.plan_id])
        page = words(as_instructor.get(url, {"t-poplar34": "0.742"}))

        assert "1/4 full" in page
        assert "planned 35 1/4" in page
        assert "36 Overall width − 0.742 Left side thickness" in page
        assert now(draft) == 1

    def test_a_trial_takes_what_the_dry_fit_measures(self, draft, as_instructor):
        url = reverse("draft-try", args=[draft.plan_id])
        answered = as_instructor.get(url, {"d-opening": "34 5/8"})
        page = words(answered)
        [rail] = [p for p in answered.context["trial"].parts if p.name == "Back rail"]

        assert "Measured on the dry fit" in page
        assert rail.sizes[0].shown.spoken == "35 and 5 eighths inches"
        assert rail.sizes[0].planned is not None
        assert now(draft) == 1

    def test_a_trial_shows_the_numbers_of_each_step(self, draft, as_instructor):
        url = reverse("draft-try", args=[draft.plan_id])
        steps = as_instructor.get(url, {"t-poplar34": "0.742"}).context["trial"].steps
        dadoes = next(step for step in steps if "dado" in step.title.lower())

        assert [step.number for step in steps] == list(range(1, len(steps) + 1))
        assert dadoes.parts[0].cuts[0].lines

    @pytest.mark.parametrize(
        ("typed", "told"), [("wide", "wide"), ("20", "must be above 0")]
    )
    def test_a_trial_that_cannot_be_built_is_told(
        self, typed, told, draft, as_instructor
    ):
        url = reverse("draft-try", args=[draft.plan_id])
        answered = as_instructor.get(url, {"t-poplar34": typed})

        assert told in text(answered)

    def test_a_draft_that_is_not_ready_has_no_trial(self, empty, as_instructor):
        page = text(as_instructor.get(reverse("draft-try", args=[empty.plan_id])))

        assert "The draft has to be ready first" in page


class TestPublishing:
    @pytest.fixture
    def changed(self, draft, instructor):
        drafting.change(
            draft,
            instructor,
            based_on=now(draft),
            operation=lambda held: engine.set_title(held, "Long bench"),
            what=lambda _old, _new: "title",
        )
        return draft

    def test_it_becomes_the_next_revision_and_is_said(self, changed, as_instructor):
        url = reverse("draft-publish", args=[changed.plan_id])
        answered = as_instructor.post(url, {"based_on": now(changed)}, follow=True)
        page = words(answered)

        assert changed.plan.revisions.count() == 2
        assert answered.redirect_chain[0][0].endswith("?published=2#told")
        assert "Published as revision 2." in page
        assert "Nothing changed since revision 2." in page
        assert reverse("plan-detail", args=[changed.plan_id]) in text(answered)

    def test_pressed_twice_it_makes_one_revision(self, changed, as_instructor):
        url = reverse("draft-publish", args=[changed.plan_id])
        for _n in range(2):
            answered = as_instructor.post(url, {"based_on": now(changed)}, follow=True)

        assert changed.plan.revisions.count() == 2
        assert "So nothing was published." in words(answered)

    def test_an_editor_is_told_without_the_owners_pages(
        self, changed, other, client_of
    ):
        url = reverse("draft-publish", args=[changed.plan_id])
        client = client_of(other)
        page = text(client.post(url, {"based_on": now(changed)}, follow=True))

        assert "Published as revision 2." in page
        assert reverse("plan-detail", args=[changed.plan_id]) + '"' not in page

    @pytest.mark.parametrize("query", ["published=3", "published=x", "unchanged=0"])
    def test_the_address_alone_says_nothing(self, query, draft, as_instructor):
        url = reverse("draft", args=[draft.plan_id])

        assert 'id="told"' not in text(as_instructor.get(f"{url}?{query}"))

    def test_nothing_new_has_no_button(self, draft, changed, as_instructor):
        url = reverse("draft", args=[draft.plan_id])

        assert ">Publish</button>" in text(as_instructor.get(url))

        drafting.undo(changed, based_on=now(changed))
        page = text(as_instructor.get(url))

        assert "Nothing changed since revision 1." in page
        assert ">Publish</button>" not in page

    def test_the_number_of_open_checks_is_said_before(
        self, draft, instructor, as_instructor
    ):
        url = reverse("draft-try", args=[draft.plan_id])

        def said():
            return words(as_instructor.get(url, headers={"HX-Request": "true"}))

        page = text(as_instructor.get(reverse("draft", args=[draft.plan_id])))

        assert f'hx-get="{url}"' in page
        assert said() == "The plan checks find nothing"

        drafting.change(
            draft,
            instructor,
            based_on=now(draft),
            operation=lambda held: engine.change_joint(
                held, "shelf_left", depth="11/16"
            ),
            what=lambda _old, _new: "depth",
        )
        number, _space, rest = said().partition(" ")

        assert rest.startswith(("plan check is open", "plan checks are open"))
        assert text(as_instructor.get(url)).count("Source:") == int(number)

    def test_a_draft_that_is_not_ready_has_no_number(self, empty, as_instructor):
        url = reverse("draft-try", args=[empty.plan_id])

        assert not words(as_instructor.get(url, headers={"HX-Request": "true"}))

    @pytest.mark.parametrize("based_on", ["", "0", "x", "9" * 30])
    def test_only_what_somebody_saw_is_published(self, based_on, draft, as_instructor):
        url = reverse("draft-publish", args=[draft.plan_id])
        answered = as_instructor.post(url, {"based_on": based_on})

        assert answered.status_code == 422
        assert "look at it, then do it again" in text(answered)
        assert draft.plan.revisions.count() == 1

    def test_what_is_missing_is_said(self, empty, as_instructor):
        url = reverse("draft-publish", args=[empty.plan_id])
        answered = as_instructor.post(url, {"based_on": now(empty)})

        assert answered.status_code == 422
        assert "a plan needs at least one part" in text(answered)

    def test_a_file_published_since_is_told(self, draft, as_instructor):
        actions.publish_plan(draft.plan.owner, plan_bytes(), plan=draft.plan)
        page = words(as_instructor.get(reverse("draft", args=[draft.plan_id])))

        assert "Revision 2 was published from a file since" in page
