"""The machines of a shop: listing, adding, what is written down of each."""

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from projects.engine.shop.questions import QUESTIONS
from projects.models import Machine, MachinePhoto, Requirement, Shop
from projects.printing import pdf
from tests.factories import MachineFactory, ShopFactory

LIST = "/shop/machines/"
KEEP = {
    "op": "keep",
    "name": "Table saw by the door",
    "how_many": "1",
    "most_people": "2",
    "step_minutes": "12",
    "setup_minutes": "0",
    "lapses_after_months": "",
    "pass_mark_pct": "90",
    "cautions": "",
}


def picture(colour="teal"):
    out = io.BytesIO()
    Image.new("RGB", (60, 40), colour).save(out, "PNG")
    return SimpleUploadedFile("saw.png", out.getvalue(), "image/png")


@pytest.fixture
def machine(shop_class):
    return MachineFactory(shop=shop_class.shop)


@pytest.fixture
def url(machine):
    return reverse("machine-detail", args=[machine.pk])


class TestList:
    def test_looking_makes_no_shop(self, client_of, colleague):
        answered = client_of(colleague).get(LIST)

        assert answered.status_code == 200
        assert "No machine is listed yet" in answered.content.decode()
        assert not Shop.objects.filter(owner=colleague).exists()

    def test_the_first_machine_makes_the_shop(self, client_of, colleague):
        answered = client_of(colleague).post(
            LIST, {"op": "add", "kind": "planer", "how_many": "2", "most_people": "1"}
        )
        made = Machine.objects.get(shop__owner=colleague)

        assert answered.headers["Location"] == reverse("machine-detail", args=[made.pk])
        assert (made.name, made.how_many) == ("Planer", 2)

    def test_it_comes_with_what_is_asked_and_ten_questions(self, as_instructor):
        as_instructor.post(
            LIST,
            {"kind": "jointer", "name": "Old jointer", "how_many": 1, "most_people": 1},
        )
        made = Machine.objects.get()

        assert [(r.kind, r.title) for r in made.requirements.all()] == [
            (kind.value, kind.label)
            for kind in (
                Requirement.Kind.SHEET,
                Requirement.Kind.CHECK,
                Requirement.Kind.DEMONSTRATION,
                Requirement.Kind.SUPERVISED_CUT,
            )
        ]
        assert [q.text for q in made.questions.all()] == [
            q.text for q in QUESTIONS["jointer"]
        ]

    @pytest.mark.parametrize(
        ("field", "typed"), [("kind", "none"), ("how_many", "0"), ("name", "x" * 61)]
    )
    def test_what_makes_no_sense_is_told_at_the_field(
        self, as_instructor, field, typed
    ):
        given = {"kind": "planer", "how_many": "1", "most_people": "1", field: typed}
        answered = as_instructor.post(LIST, given)

        assert answered.status_code == 422
        assert f'id="id_{field}_error"' in answered.content.decode()
        assert not Machine.objects.exists()

    def test_it_adds_what_the_plans_of_the_classes_use(self, as_instructor, machine):
        page = as_instructor.get(LIST)
        assert "Add what my plans use" in page.content.decode()

        as_instructor.post(LIST, {"op": "wanted"})
        kinds = [made.kind for made in Machine.objects.all()]

        assert kinds.count("table_saw") == 1
        assert {"planer", "router"} <= set(kinds)
        assert "none" not in kinds
        assert as_instructor.get(LIST).context["missing"] == []

    def test_a_retired_one_is_folded_away(self, as_instructor, machine, url):
        as_instructor.post(url, {"op": "retire"})
        page = as_instructor.get(LIST)

        assert page.context["machines"] == []
        assert page.context["retired"] == [machine]

        as_instructor.post(url, {"op": "take-back"})
        assert as_instructor.get(LIST).context["retired"] == []

    def test_only_the_shops_own_stand_there(self, client_of, other_instructor, machine):
        ShopFactory(owner=other_instructor)

        page = client_of(other_instructor).get(LIST)

        assert page.context["machines"] == []

    def test_queries_stay_as_few_with_many_machines(
        self, as_instructor, shop_class, django_assert_num_queries
    ):
        for n in range(12):
            MachineFactory(shop=shop_class.shop, kind="sander", name=f"Sander {n}")
        with django_assert_num_queries(4):  # session, user, machines, revisions
            as_instructor.get(LIST)


class TestDetail:
    def test_what_was_typed_is_kept_as_typed_and_read(
        self, as_instructor, url, machine
    ):
        typed = {"limit_kerf": "1/8", "limit_dado_chippers": "3, 3, 1.5 mm"}
        answered = as_instructor.post(url, KEEP | typed)
        machine.refresh_from_db()
        page = as_instructor.get(url).content.decode()

        assert answered.status_code == 302
        assert machine.limits == {"kerf": "1/8", "dado_chippers": "3, 3, 1.5 mm"}
        assert machine.name == "Table saw by the door"
        assert machine.pass_mark_pct == 90
        assert machine.lapses_after_months is None
        assert 'value="3, 3, 1.5 mm"' in page
        assert "Read: 0.125 in = 3.18 mm" in page

    def test_the_usual_limit_stands_beside_an_empty_one(self, as_instructor, url):
        page = as_instructor.get(url).content.decode()

        assert "Empty: the usual 12 in (Popular Woodworking" in page

    @pytest.mark.parametrize(
        ("field", "typed", "why"),
        [
            ("limit_kerf", "thin", "is not a length"),
            ("limit_kerf", "1/8, 1/8", "write decimals with a point"),
            ("limit_dado_chippers", "1/8, wide", "is not a length"),
            ("limit_shortest", "0", "must be above 0"),
            ("pass_mark_pct", "101", "less than or equal to 100"),
            ("name", "", "required"),
            ("cautions", "x" * 301, "at most 300 letters"),
        ],
    )
    def test_what_cant_be_read_is_told_and_nothing_is_lost(
        self, as_instructor, url, machine, field, typed, why
    ):
        answered = as_instructor.post(
            url, KEEP | {"limit_widest_rip": "30", field: typed}
        )
        page = answered.content.decode()
        machine.refresh_from_db()

        assert answered.status_code == 422
        assert why in page
        assert typed in page
        assert 'value="30"' in page
        assert machine.limits == {}

    def test_own_cautions_are_a_line_each(self, as_instructor, url, machine):
        as_instructor.post(url, KEEP | {"cautions": " Ask first. \n\n Hair tied. "})
        machine.refresh_from_db()

        assert machine.cautions.splitlines() == ["Ask first.", "Hair tied."]

    def test_it_takes_few_queries(self, as_instructor, url, django_assert_num_queries):
        with django_assert_num_queries(4):  # session, user, machine, photo's time
            as_instructor.get(url)


class TestPhoto:
    @pytest.fixture
    def photo(self, as_instructor, url, machine):
        as_instructor.post(url, {"op": "photo", "photo": picture()})
        return reverse("machine-photo", args=[machine.pk])

    def test_it_is_kept_as_a_jpeg_of_our_own(self, photo, machine):
        kept = MachinePhoto.objects.get(machine=machine)

        assert Image.open(io.BytesIO(bytes(kept.data))).format == "JPEG"
        assert (kept.width, kept.height) == (60, 40)

    def test_another_takes_its_place(self, photo, as_instructor, url, machine):
        before = bytes(machine.photo.data)
        as_instructor.post(url, {"op": "photo", "photo": picture("red")})

        assert bytes(MachinePhoto.objects.get().data) != before

    def test_it_can_be_removed(self, photo, as_instructor, url):
        as_instructor.post(url, {"op": "remove-photo"})

        assert not MachinePhoto.objects.exists()
        assert as_instructor.get(photo).status_code == 404

    def test_whoever_is_in_a_class_there_sees_it(
        self, photo, client_of, student, assistant, instructor
    ):
        for user in (student, assistant, instructor):
            answered = client_of(user).get(photo)

            assert answered.status_code == 200
            assert answered.headers["Content-Type"] == "image/jpeg"
            assert "private" in answered.headers["Cache-Control"]

    def test_nobody_else_does(
        self, photo, client_of, stranger, other_instructor, student, shop_class
    ):
        assert client_of(stranger).get(photo).status_code == 404
        assert client_of(other_instructor).get(photo).status_code == 404

        shop_class.memberships.filter(user=student).update(
            left_at="2026-01-01T00:00:00Z"
        )
        assert client_of(student).get(photo).status_code == 404

    def test_asked_for_as_it_was_kept_it_is_cached_long(self, photo, as_student):
        assert "max-age=31536000" in as_student.get(f"{photo}?at=1")["Cache-Control"]
        assert "max-age=600" in as_student.get(photo)["Cache-Control"]

    @pytest.mark.parametrize(
        "sent", [{}, {"photo": SimpleUploadedFile("a.svg", b"<svg/>")}]
    )
    def test_what_is_no_picture_is_told(self, as_instructor, url, sent):
        answered = as_instructor.post(url, {"op": "photo", **sent})

        assert answered.status_code == 422
        assert "not a JPEG, PNG or WebP" in answered.content.decode()


class TestPosters:
    def test_one_and_all_come_as_pdfs(self, as_instructor, machine):
        one = as_instructor.get(reverse("machine-poster-pdf", args=[machine.pk]))
        every = as_instructor.get(reverse("posters-pdf"), {"paper": "a4"})

        assert one.content.startswith(b"%PDF-")
        assert f"poster-{machine.pk}-letter.pdf" in one["Content-Disposition"]
        assert "posters-a4.pdf" in every["Content-Disposition"]

    def test_without_a_machine_the_list_says_so(self, as_instructor):
        assert as_instructor.get(reverse("posters-pdf"))["Location"] == LIST

    def test_without_pango_the_list_says_so(self, as_instructor, machine, monkeypatch):
        monkeypatch.setattr(pdf, "can_print", lambda: False)
        answered = as_instructor.get(reverse("posters-pdf"))
        page = as_instructor.get(LIST).content.decode()

        assert answered["Location"] == LIST
        assert "lacks pango" in page
        assert "posters.pdf" not in page

    def test_while_other_sheets_are_made_it_says_to_wait(
        self, as_instructor, machine, monkeypatch
    ):
        def busy(*_args, **_more):
            raise pdf.BusyError

        monkeypatch.setattr("projects.views.posters.make_pdf", busy)

        assert as_instructor.get(reverse("posters-pdf")).status_code == 503
