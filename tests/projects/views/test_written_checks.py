"""Taking a machine's written check, and what came of it."""

import pytest
from django.urls import reverse
from django.utils import timezone

from projects import actions
from projects.models import CheckTaken, RequirementRecord
from tests.factories import MachineFactory


@pytest.fixture
def machine(shop_class):
    return actions.add_machine(shop_class.shop, kind="band_saw")


class TestWrittenCheck:
    @pytest.fixture
    def url(self, build, machine):
        return reverse("written-check", args=[build.pk, machine.pk])

    @pytest.fixture
    def answers(self, machine):
        """All right answers, as the form sends them."""
        return {f"question_{q.pk}": str(q.right) for q in machine.questions.all()}

    def wrong(self, machine, n):
        """Wrong answers to the first n questions."""
        return {
            f"question_{q.pk}": str((q.right + 1) % len(q.choices))
            for q in machine.questions.all()[:n]
        }

    def test_all_questions_are_on_one_page_in_order(self, as_student, url, machine):
        page = as_student.get(url)
        asked = [question for question, *_rest in page.context["form"].asked]

        assert asked == list(machine.questions.all())
        assert "Pass mark 80 %" in page.content.decode()
        assert machine.questions.first().why not in page.content.decode()

    def test_a_pass_is_kept_whole_and_recorded(
        self, as_student, url, machine, student, answers
    ):
        answered = as_student.post(url, answers | self.wrong(machine, 1))
        taken = CheckTaken.objects.get()
        record = RequirementRecord.objects.get()

        assert answered.headers["Location"] == f"{url}?taken={taken.pk}"
        assert (taken.right, taken.asked, taken.passed) == (9, 10, True)
        assert taken.student == student
        assert taken.answers[0]["given"] != taken.answers[0]["right"]
        assert taken.answers[3]["why"] == machine.questions.all()[3].why
        assert (record.met, record.score, record.by) == (True, "9 of 10", student)
        assert record.requirement.kind == "check"

    def test_a_fail_is_kept_and_meets_nothing(self, as_student, url, machine, answers):
        as_student.post(url, answers | self.wrong(machine, 3))

        assert CheckTaken.objects.get().passed is False
        assert not RequirementRecord.objects.exists()

    def test_the_result_explains_what_was_wrong(
        self, as_student, url, machine, answers
    ):
        first = machine.questions.first()
        answered = as_student.post(url, answers | self.wrong(machine, 3), follow=True)
        page = answered.content.decode().replace("&#x27;", "'").replace("&quot;", '"')

        assert "7 of 10 right" in page
        assert "The pass mark is 80 %" in page
        assert first.why in page
        assert first.source in page
        assert machine.questions.last().why not in page
        assert "Take it again" in page
        assert "allowed" not in page

    def test_it_stays_as_it_was_asked(self, as_student, url, machine, answers):
        as_student.post(url, answers | self.wrong(machine, 1))
        text = machine.questions.first().text
        machine.questions.all().update(text="Something else?")
        taken = CheckTaken.objects.get()

        assert text in as_student.get(f"{url}?taken={taken.pk}").content.decode()

    def test_one_without_an_answer_is_told_and_the_rest_kept(
        self, as_student, url, machine, answers
    ):
        last = f"question_{machine.questions.last().pk}"
        answered = as_student.post(url, {k: v for k, v in answers.items() if k != last})
        page = answered.content.decode()

        assert answered.status_code == 422
        assert "1 question has no answer yet" in page
        assert page.count(" checked") == 9
        assert "Choose an answer." in page
        assert not CheckTaken.objects.exists()

    def test_retired_questions_are_not_asked(self, as_student, url, machine, answers):
        actions.retire(machine.questions.first())
        as_student.post(url, answers)

        assert CheckTaken.objects.get().asked == 9

    def test_it_can_be_taken_again(self, as_student, url, machine, answers):
        as_student.post(url, answers | self.wrong(machine, 3))
        as_student.post(url, answers)

        assert [taken.passed for taken in CheckTaken.objects.all()] == [False, True]

    def test_staff_see_it_and_cant_answer(self, as_instructor, url, answers):
        assert "Only Perpetua Lindqvale" in as_instructor.get(url).content.decode()
        assert as_instructor.post(url, answers).status_code == 403
        assert not CheckTaken.objects.exists()

    def test_a_classmate_finds_nothing(self, client_of, classmate, url, answers):
        assert client_of(classmate).get(url).status_code == 404
        assert client_of(classmate).post(url, answers).status_code == 404

    def test_an_archived_class_takes_none(self, as_student, url, shop_class, answers):
        shop_class.archived_at = timezone.now()
        shop_class.save()

        assert "Send my answers" not in as_student.get(url).content.decode()
        assert as_student.post(url, answers).status_code == 403

    def test_a_retired_machine_is_not_found(self, as_student, url, machine):
        actions.retire(machine)

        assert as_student.get(url).status_code == 404

    def test_a_machine_of_another_shop_is_not_found(self, as_student, build):
        other = MachineFactory.create()
        url = reverse("written-check", args=[build.pk, other.pk])

        assert as_student.get(url).status_code == 404

    def test_without_questions_there_is_none_to_take(self, as_student, url, machine):
        machine.questions.all().delete()

        assert "no questions yet" in as_student.get(url).content.decode()
        assert as_student.post(url, {}).status_code == 403

    def test_somebody_elses_result_is_not_found(
        self, as_student, url, machine, classmate, answers
    ):
        questions = list(machine.questions.all())
        given = {question.pk: question.right for question in questions}
        taken = actions.take_check(machine, classmate, questions, given)

        assert as_student.get(f"{url}?taken={taken.pk}").status_code == 404
        assert as_student.get(f"{url}?taken=x").status_code == 404

    def test_it_takes_few_queries(self, as_student, url, django_assert_num_queries):
        with django_assert_num_queries(5):  # session, user, build, machine, questions
            as_student.get(url)
