"""The roster of a class, and each student on it."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from projects import actions
from projects.models import Build, Membership, User
from projects.roster import MOST_STUDENTS
from tests.factories import ShopClassFactory, enrol, help_in

CODE = "km7px3qe"


@pytest.fixture
def url(shop_class):
    return reverse("class-roster", args=[shop_class.pk])


@pytest.fixture
def ann(shop_class):
    """A student who has not joined yet."""
    student = enrol(shop_class, name="Ann Other", username=CODE).student
    student.set_unusable_password()
    student.save()
    return student


@pytest.fixture
def edit_url(shop_class, ann):
    return reverse("student-edit", args=[shop_class.pk, ann.pk])


@pytest.fixture
def as_keeper(shop_class, client_of):
    """The browser of an assistant who keeps the roster."""
    return client_of(help_in(shop_class, "may_roster", name="Keeper"))


def text(response):
    return response.content.decode()


def csv_file(data, name="roster.csv"):
    data = data.encode() if isinstance(data, str) else data
    return SimpleUploadedFile(name, data, "text/csv")


def archive(shop_class):
    shop_class.archived_at = timezone.now()
    shop_class.save()


def names_in(shop_class):
    students = shop_class.memberships.students().order_by("pk")
    return list(students.values_list("user__name", flat=True))


class TestThePage:
    def test_who_joined_and_with_which_code(self, url, as_instructor, ann, student):
        page = text(as_instructor.get(url))

        assert "km7p-x3qe" in page
        assert "not yet" in page
        assert f"signs in as {student.username}" in page
        assert "2 students" in page

    def test_an_assistant_without_the_right_reads_names_only(
        self, url, shop_class, client_of, assistant, ann
    ):
        page = text(client_of(assistant).get(url))

        assert "Ann Other" in page
        assert "km7p" not in page
        assert reverse("class-cards", args=[shop_class.pk]) not in page
        assert "Put them on the roster" not in page

    def test_an_assistant_with_it_reads_codes_but_for_other_assistants(
        self, url, shop_class, as_keeper, as_instructor, ann
    ):
        help_in(shop_class, name="Helper", username="cdefghjk")

        assert "km7p-x3qe" in text(as_keeper.get(url))
        assert "cdef-ghjk" not in text(as_keeper.get(url))
        assert "cdef-ghjk" in text(as_instructor.get(url))

    def test_who_left_is_folded_away(self, url, shop_class, as_instructor, ann):
        actions.leave_class(shop_class.memberships.get(user=ann))
        page = text(as_instructor.get(url))

        assert "1 student has left" in page
        assert "0 students" in page
        assert "km7p" not in page

    def test_it_is_kept_by_no_browser(self, url, as_instructor, ann):
        assert "no-store" in as_instructor.get(url).headers["Cache-Control"]

    @pytest.mark.parametrize("students", [3, 30])
    def test_queries_do_not_grow_with_the_class(
        self, students, url, shop_class, as_instructor, django_assert_num_queries
    ):
        for _ in range(students):
            enrol(shop_class)
        # session, user, class, members, students of other classes
        with django_assert_num_queries(5):
            as_instructor.get(url)

    def test_without_pango_the_browser_prints_it(
        self, url, as_instructor, ann, monkeypatch
    ):
        monkeypatch.setattr("projects.views.roster.can_print", lambda: False)
        page = text(as_instructor.get(url))

        assert "lacks pango" in page
        assert "roster.pdf" not in page


class TestTyping:
    def test_each_gets_a_card_and_a_build(self, url, shop_class, as_instructor):
        answered = as_instructor.post(url, {"names": "1. Zoë Brandt\tx\n\n Bo   Lim "})

        assert answered.headers["Location"] == url
        assert names_in(shop_class) == ["Zoë Brandt", "Bo Lim"]
        assert Build.objects.filter(shop_class=shop_class).count() == 2
        assert "not yet" in text(as_instructor.get(url))

    def test_an_assistant_who_keeps_the_roster_may(self, url, shop_class, as_keeper):
        as_keeper.post(url, {"names": "Zoë"})

        assert names_in(shop_class) == ["Zoë"]

    @pytest.mark.parametrize(
        ("names", "told"),
        [
            ("", "Type a name, or choose a file."),
            ("Zoë\nANN  other", "In this class already: Ann Other."),
            ("Zoë\nzoë", "stands here twice: Zoë."),
            ("x" * 81, "at most 80 letters"),
            ("Zo\x07ë", "a sign that can&#x27;t be printed"),
            ("Zoë\n" * 6000, "at most 20000 characters"),
        ],
    )
    def test_what_is_doubtful_is_told_and_kept(
        self, names, told, url, shop_class, as_instructor, ann
    ):
        answered = as_instructor.post(url, {"names": names})

        assert answered.status_code == 422
        assert told in text(answered)
        assert names.splitlines()[:1] == [] or names.splitlines()[0] in text(answered)
        assert names_in(shop_class) == ["Ann Other"]

    def test_a_full_class_takes_nobody_more(self, url, shop_class, as_instructor, ann):
        names = "\n".join(f"Student {n}" for n in range(MOST_STUDENTS))
        answered = as_instructor.post(url, {"names": names})

        assert answered.status_code == 422
        assert "1 and 60 are too many" in text(answered)

    def test_who_left_is_brought_back_rather(self, url, shop_class, as_instructor, ann):
        actions.leave_class(shop_class.memberships.get(user=ann))
        answered = as_instructor.post(url, {"names": "Ann Other"})

        assert "Was in this class and left: Ann Other." in text(answered)

    def test_two_at_one_moment_lose_nothing(
        self, url, shop_class, as_instructor, monkeypatch
    ):
        taken = enrol(ShopClassFactory.create()).student
        monkeypatch.setattr(
            actions, "new_people", lambda _n: [User(username=taken.username, name="Z")]
        )
        answered = as_instructor.post(url, {"names": "Z"})

        assert answered.status_code == 422
        assert "could not be kept; send it again" in text(answered)

    def test_names_are_never_markup(self, url, as_instructor):
        as_instructor.post(url, {"names": "<script>alert(1)</script>"})
        page = text(as_instructor.get(url))

        assert "&lt;script&gt;alert(1)" in page
        assert "<script>alert" not in page

    def test_an_archived_class_takes_nobody(self, url, shop_class, as_instructor):
        archive(shop_class)

        assert as_instructor.post(url, {"names": "Zoë"}).status_code == 403
        assert "Put them on the roster" not in text(as_instructor.get(url))


class TestFile:
    def test_the_names_are_put_on_the_roster(self, url, shop_class, as_instructor):
        sent = csv_file("Mail;Name\na@b.invalid;Zoë Brandt\nc@d.invalid;Bo Lim\n")
        as_instructor.post(url, {"names": "Cy", "file": sent})

        assert names_in(shop_class) == ["Cy", "Zoë Brandt", "Bo Lim"]

    def test_a_doubtful_column_is_shown_before_it_is_written(
        self, url, shop_class, as_instructor
    ):
        sent = csv_file("Brandt,Zoë\nLim,Bo\n")
        answered = as_instructor.post(url, {"names": "Cy", "file": sent})

        assert answered.status_code == 422
        assert "so the first one was read" in text(answered)
        assert "Cy\nBrandt\nLim</textarea>" in text(answered)
        assert names_in(shop_class) == []

    def test_nothing_of_it_is_lost_where_one_name_is_known(
        self, url, as_instructor, ann
    ):
        sent = csv_file("Name\nZoë\nAnn Other\n")
        answered = as_instructor.post(url, {"names": "", "file": sent})

        assert answered.status_code == 422
        assert "In this class already: Ann Other." in text(answered)
        assert "Zoë\nAnn Other</textarea>" in text(answered)

    @pytest.mark.parametrize(
        ("data", "told"),
        [
            (b"PK\x03\x04\0\0", "This is no text file."),
            (b"Name\n\n", "No name was read in this file."),
            (b"", "The submitted file is empty."),
            (b"Name\n" + b"x" * 200_000, "at most 200000 are read"),
        ],
    )
    def test_what_cannot_be_read_is_told(
        self, data, told, url, shop_class, as_instructor
    ):
        answered = as_instructor.post(url, {"names": "Cy", "file": csv_file(data)})

        assert answered.status_code == 422
        assert told in text(answered)
        assert "Cy</textarea>" in text(answered)
        assert names_in(shop_class) == []


class TestPicking:
    @pytest.fixture
    def second(self, shop_class):
        return ShopClassFactory.create(title="Mondays", revision=shop_class.revision)

    def test_they_keep_person_and_card(self, second, as_instructor, ann):
        url = reverse("class-roster", args=[second.pk])
        assert "Ann Other" in text(as_instructor.get(url))
        as_instructor.post(url, {"person": [ann.pk]})

        assert second.memberships.students().get().user == ann
        assert second.builds.get().student == ann
        ann.refresh_from_db()
        assert ann.username == CODE

    def test_nobody_of_somebody_elses_class(self, url, as_instructor, stranger):
        assert stranger.name not in text(as_instructor.get(url))
        answered = as_instructor.post(url, {"person": [stranger.pk]})

        assert answered.status_code == 422
        assert not stranger.memberships.exclude(shop_class__title__startswith="S")

    def test_a_name_that_is_here_already_is_told(self, second, as_instructor, ann):
        enrol(second, name="Ann Other")
        url = reverse("class-roster", args=[second.pk])
        answered = as_instructor.post(url, {"person": [ann.pk]})

        assert answered.status_code == 422
        assert "In this class already: Ann Other." in text(answered)
        assert "checked" in text(answered)


class TestStudent:
    def test_a_new_name_is_kept_tidied(self, edit_url, url, as_instructor, ann):
        answered = as_instructor.post(edit_url, {"name": "  Anna  Other "})
        ann.refresh_from_db()

        assert answered.headers["Location"] == url
        assert ann.name == "Anna Other"

    def test_its_own_name_may_be_kept(self, edit_url, as_instructor, ann):
        answered = as_instructor.post(edit_url, {"name": "ann other"})

        assert answered.status_code == 302

    @pytest.mark.parametrize("name", ["", " ", "x" * 81, "Bo\nLim", "BO lim"])
    def test_what_is_no_name_is_told_and_kept(
        self, name, edit_url, shop_class, as_instructor, ann
    ):
        enrol(shop_class, name="Bo Lim")
        answered = as_instructor.post(edit_url, {"name": name})
        ann.refresh_from_db()

        assert answered.status_code == 422
        assert "hint-error" in text(answered)
        assert ann.name == "Ann Other"

    def test_leaving_and_coming_back(self, edit_url, shop_class, as_instructor, ann):
        as_instructor.post(edit_url, {"op": "leave"})
        assert names_in(shop_class) == []
        page = text(as_instructor.get(edit_url))
        assert "Let them come back" in page
        record = reverse("safety-record-pdf", args=[shop_class.builds.get().pk])
        assert record in page
        assert as_instructor.get(record).status_code == 200
        assert "Make a new card" not in page

        as_instructor.post(edit_url, {"op": "return"})
        assert names_in(shop_class) == ["Ann Other"]

    def test_an_act_nobody_knows_is_not_there(self, edit_url, as_instructor):
        assert as_instructor.post(edit_url, {"op": "x"}).status_code == 404

    def test_deleting_is_for_who_teaches(
        self, edit_url, shop_class, as_instructor, as_keeper, ann
    ):
        link = reverse("student-delete", args=[shop_class.pk, ann.pk])

        assert link in text(as_instructor.get(edit_url))
        assert link not in text(as_keeper.get(edit_url))

    def test_one_of_another_class_is_not_found(
        self, shop_class, as_instructor, stranger, instructor
    ):
        for person in (stranger, instructor):
            for name in ("student-edit", "card-renew"):
                there = reverse(name, args=[shop_class.pk, person.pk])

                assert as_instructor.post(there, {"name": "X"}).status_code == 404

    def test_an_archived_class_changes_nothing(
        self, edit_url, shop_class, as_instructor, ann
    ):
        archive(shop_class)

        assert as_instructor.get(edit_url).status_code == 200
        for sent in ({"name": "X"}, {"op": "leave"}):
            assert as_instructor.post(edit_url, sent).status_code == 403


class TestNewCard:
    @pytest.fixture
    def renew_url(self, shop_class, ann):
        return reverse("card-renew", args=[shop_class.pk, ann.pk])

    def test_the_old_one_stops_and_the_new_one_can_be_printed(
        self, renew_url, shop_class, as_instructor, client_of, ann
    ):
        ann.set_password("2580")
        ann.save()
        phone = client_of(ann)
        answered = as_instructor.post(renew_url)
        ann.refresh_from_db()

        assert ann.username != CODE
        assert not ann.has_joined
        assert "/sign-in/" in phone.get("/").headers["Location"]
        page = text(as_instructor.get(answered.headers["Location"]))
        assert "no longer work" in page
        assert f"{ann.username[:4]}-{ann.username[4:]}" in page

    def test_looking_at_it_voids_nothing(self, renew_url, edit_url, as_instructor, ann):
        for method in (as_instructor.get, as_instructor.head):
            assert method(renew_url).status_code == 405
            method(edit_url)
        ann.refresh_from_db()

        assert ann.username == CODE

    @pytest.mark.parametrize("when", ["archived", "left", "helps elsewhere"])
    def test_it_is_refused(
        self, when, renew_url, shop_class, other_class, as_instructor, ann
    ):
        if when == "archived":
            archive(shop_class)
        elif when == "left":
            actions.leave_class(shop_class.memberships.get(user=ann))
        else:
            Membership.objects.create(
                shop_class=other_class, user=ann, role=Membership.Role.ASSISTANT
            )
        answered = as_instructor.post(renew_url)
        ann.refresh_from_db()

        assert answered.status_code == 403
        assert ann.username == CODE

    def test_an_assistant_takes_over_no_other(
        self, shop_class, as_keeper, as_instructor
    ):
        helper = help_in(shop_class, "may_sign", name="Helper", username="cdefghjk")
        there = reverse("card-renew", args=[shop_class.pk, helper.pk])
        edit = reverse("student-edit", args=[shop_class.pk, helper.pk])

        assert as_keeper.post(there).status_code == 403
        assert as_keeper.post(edit, {"name": "X"}).status_code == 403
        assert as_instructor.post(edit, {"op": "leave"}).status_code == 404
        assert as_instructor.post(there).status_code == 302
