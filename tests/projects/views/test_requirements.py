"""What a machine asks before a sign-off, and the questions of its written check."""

import pytest
from django.urls import reverse
from django.utils import timezone

from projects import actions
from projects.models import Question, Requirement, RequirementRecord
from tests.factories import ShopFactory

LAW = "Follow local law and school policy; this only notes what was seen."
WRITTEN = {
    "text": "Where do you stand?",
    "choice_0": "Behind the blade",
    "choice_1": "Out of line with it",
    "right": "1",
    "why": "A thrown board flies straight back.",
    "source": "common practice, no source",
}


@pytest.fixture
def machine(shop_class):
    return actions.add_machine(shop_class.shop, kind="band_saw")


class TestRequirements:
    @pytest.fixture
    def url(self, machine):
        return reverse("machine-requirements", args=[machine.pk])

    @pytest.fixture
    def cut(self, machine):
        return machine.requirements.get(kind="supervised_cut")

    def test_one_more_can_be_asked(self, as_instructor, url, machine):
        answered = as_instructor.post(
            url, {"kind": "other", "title": "Change a blade", "note": ""}
        )

        assert answered.status_code == 302
        assert machine.requirements.last().title == "Change a blade"

    def test_something_else_needs_words(self, as_instructor, url, machine):
        answered = as_instructor.post(url, {"kind": "other", "note": "with me"})
        page = answered.content.decode()

        assert answered.status_code == 422
        assert "Say in a few words" in page
        assert 'value="with me"' in page

    @pytest.mark.parametrize("kind", ["age", "consent"])
    def test_what_law_decides_carries_its_note(self, as_instructor, url, machine, kind):
        as_instructor.post(
            url, {"kind": kind, "title": "", "note": "Seen at the desk."}
        )
        made = machine.requirements.get(kind=kind)

        assert made.note == f"Seen at the desk. {LAW}"
        assert made.title == Requirement.Kind(kind).label

    def test_its_words_change_while_no_record_names_it(self, as_instructor, url, cut):
        as_instructor.post(
            url,
            {
                "op": "reword",
                "requirement": cut.pk,
                "title": "Resaw a scrap",
                "note": "",
            },
        )
        cut.refresh_from_db()

        assert cut.title == "Resaw a scrap"

    def test_after_that_they_stay(self, as_instructor, url, cut, student, instructor):
        RequirementRecord.objects.create(
            requirement=cut,
            student=student,
            title=cut.title,
            met=True,
            at=timezone.now(),
            by=instructor,
        )
        answered = as_instructor.post(
            url, {"op": "reword", "requirement": cut.pk, "title": "Other", "note": ""}
        )
        page = answered.content.decode()

        assert answered.status_code == 422
        assert "retire it and add another" in page
        assert "so its words stay" in page
        assert Requirement.objects.get(pk=cut.pk).title == cut.title

    def test_empty_words_are_refused_where_they_stand(self, as_instructor, url, cut):
        answered = as_instructor.post(
            url, {"op": "reword", "requirement": cut.pk, "title": "", "note": "slow"}
        )
        page = answered.content.decode()

        assert answered.status_code == 422
        assert f'id="title-{cut.pk}-error"' in page
        assert 'value="slow"' in page

    def test_it_is_retired_and_taken_back(self, as_instructor, url, cut):
        as_instructor.post(url, {"op": "retire", "requirement": cut.pk})
        page = as_instructor.get(url)
        assert [line.requirement for line in page.context["retired"]] == [cut]

        as_instructor.post(url, {"op": "take-back", "requirement": cut.pk})
        assert as_instructor.get(url).context["retired"] == []

    def test_what_is_usual_comes_back_once(self, as_instructor, url, cut, machine):
        actions.retire(cut)
        as_instructor.post(url, {"op": "usual"})
        as_instructor.post(url, {"op": "usual"})
        asked = machine.requirements.filter(retired_at=None)

        assert asked.count() == 4

    @pytest.mark.parametrize("op", ["retire", "take-back", "reword"])
    def test_one_of_another_machine_is_not_found(self, as_instructor, url, op):
        other = actions.add_machine(ShopFactory.create(), kind="planer")
        sent = {"op": op, "requirement": other.requirements.values("pk")[0]["pk"]}

        assert as_instructor.post(url, sent).status_code == 404

    def test_it_takes_few_queries(self, as_instructor, url, django_assert_num_queries):
        with django_assert_num_queries(6):
            as_instructor.get(url)


class TestQuestions:
    @pytest.fixture
    def url(self, machine):
        return reverse("machine-questions", args=[machine.pk])

    def test_each_has_answer_why_and_source(self, as_instructor, url, machine):
        page = as_instructor.get(url).content.decode().replace("&#x27;", "'")

        for question in machine.questions.all():
            assert question.text in page
            assert question.choices[question.right] in page
            assert question.source.replace('"', "&quot;") in page

    def test_an_own_one_is_added(self, as_instructor, url, machine):
        # an empty line between: the mark stays at its answer
        sent = WRITTEN | {"choice_1": "", "choice_3": "Out of line", "right": "3"}
        assert as_instructor.post(url, sent).status_code == 302
        made = machine.questions.last()

        assert made.choices == ["Behind the blade", "Out of line"]
        assert made.right == 1

    @pytest.mark.parametrize(
        ("changed", "why"),
        [
            ({"choice_0": ""}, "choices must be 2 to 6"),
            ({"choice_0": "out of line with it"}, "choices must differ"),
            ({"right": ""}, "Mark the right answer"),
            ({"right": "4"}, "marked as right is empty"),
            ({"why": ""}, "required"),
        ],
    )
    def test_what_cant_be_asked_is_told_and_kept(
        self, as_instructor, url, machine, changed, why
    ):
        answered = as_instructor.post(url, WRITTEN | changed)
        page = answered.content.decode()

        assert answered.status_code == 422
        assert why in page
        assert "Where do you stand?" in page
        assert machine.questions.filter(text=WRITTEN["text"]).count() == 0

    def test_changing_one_retires_it_and_adds_another(
        self, as_instructor, url, machine
    ):
        old = machine.questions.first()
        form = as_instructor.get(url, {"change": old.pk}).content.decode()
        as_instructor.post(url, WRITTEN | {"change": old.pk})
        old.refresh_from_db()

        assert f'<input type="hidden" name="change" value="{old.pk}">' in form
        assert old.retired_at
        assert machine.questions.last().text == WRITTEN["text"]

    def test_the_supplied_ones_that_it_never_had_are_added(
        self, as_instructor, url, machine
    ):
        gone = machine.questions.first()
        actions.retire(machine.questions.last())
        Question.objects.filter(pk=gone.pk).delete()
        assert as_instructor.get(url).context["missing_count"] == 1

        as_instructor.post(url, {"op": "supplied"})

        assert machine.questions.last().text == gone.text
        assert machine.questions.filter(retired_at=None).count() == 9

    def test_it_is_retired_and_taken_back(self, as_instructor, url, machine):
        one = machine.questions.first()
        as_instructor.post(url, {"op": "retire", "question": one.pk})
        one.refresh_from_db()
        assert one.retired_at

        as_instructor.post(url, {"op": "take-back", "question": one.pk})
        one.refresh_from_db()
        assert one.retired_at is None

    @pytest.mark.parametrize("change", ["x", "0", "99999999999999999999999"])
    def test_what_is_not_there_cant_be_changed(self, as_instructor, url, change):
        assert as_instructor.get(url, {"change": change}).status_code == 404

    def test_it_takes_few_queries(self, as_instructor, url, django_assert_num_queries):
        with django_assert_num_queries(5):
            as_instructor.get(url)
