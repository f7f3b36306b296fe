"""The page of prints, and the class pack from the button to the file."""

import time

import pypdfium2
import pytest
from django.urls import reverse
from django.utils import timezone

from projects.models import Membership
from projects.printing import packs, pdf
from tests.factories import POPLAR, MachineFactory, log, log_stock, sign_off


@pytest.fixture(autouse=True)
def _empty_shelf(monkeypatch):
    monkeypatch.setattr(packs, "_SHELF", packs._Shelf())


@pytest.fixture
def quick(monkeypatch):
    """Lay nothing out: these tests ask when a pack is made, not what it shows."""
    monkeypatch.setattr(packs, "pdf_of_many", lambda _htmls, **_more: b"%PDF-")


@pytest.fixture
def url(shop_class):
    return reverse("class-pack", args=[shop_class.pk])


@pytest.fixture
def as_assistant(client_of, assistant):
    return client_of(assistant)


def make(client, url, **data):
    """Press the button; return the address of the progress page."""
    address = client.post(url, data).headers["Location"]
    pack = packs.find(address.partition("?pack=")[2])
    until = time.monotonic() + 60
    while pack and not (pack.is_made or pack.failed):
        assert time.monotonic() < until
        time.sleep(0.02)
    return address


def pages_of(answered):
    document = pypdfium2.PdfDocument(b"".join(answered.streaming_content))
    try:
        return [page.get_textpage().get_text_range() for page in document]
    finally:
        document.close()


class TestThePack:
    def test_it_holds_every_students_sheet(
        self, url, as_instructor, build, classmate, shop_class
    ):
        log_stock(build)
        address = make(as_instructor, url, paper="a4")
        page = as_instructor.get(address).content.decode()
        file = address.replace("/pack/", "/pack.pdf")
        answered = as_instructor.get(file)
        text = "\n".join(pages_of(answered))

        assert "The pack is made: 2 sheets." in page
        assert file.replace("&", "&amp;") in page
        assert answered.headers["Content-Type"] == "application/pdf"
        assert build.student.name in text
        assert classmate.name in text

    @pytest.mark.usefixtures("quick")
    def test_an_unchanged_class_gets_the_file_at_once(self, url, as_instructor, build):
        first = make(as_instructor, url)

        assert as_instructor.post(url).headers["Location"] == first.replace(
            "/pack/", "/pack.pdf"
        )

    @pytest.mark.usefixtures("quick")
    def test_a_new_reading_makes_another(self, url, as_instructor, build):
        first = make(as_instructor, url)
        log(build, POPLAR, "0.742")

        assert make(as_instructor, url) != first

    @pytest.mark.usefixtures("quick")
    @pytest.mark.parametrize("change", ["mark", "sign-off", "machine"])
    def test_so_does_all_that_the_sheets_say(
        self, change, url, as_instructor, build, shop_class
    ):
        saw = MachineFactory.create(shop=shop_class.shop)
        first = make(as_instructor, url)
        if change == "mark":
            given = {"step": "x", "title": "X", "done": True, "by": build.student}
            build.marks.create(**given, at=timezone.now())
        elif change == "sign-off":
            sign_off(build.student, saw)
        else:
            saw.name = "Old table saw"
            saw.save()

        assert make(as_instructor, url) != first

    def test_its_sheets_say_what_is_blocked(
        self, url, as_instructor, build, shop_class
    ):
        MachineFactory.create(shop=shop_class.shop)
        address = make(as_instructor, url)
        file = as_instructor.get(address.replace("/pack/", "/pack.pdf"))

        assert "not signed off" in " ".join(pages_of(file)).lower()

    @pytest.mark.usefixtures("quick")
    def test_who_left_is_not_in_it(self, url, as_instructor, build, classmate):
        gone = Membership.objects.get(user=classmate)
        gone.left_at = "2026-01-01T12:00Z"
        gone.save()
        address = make(as_instructor, url)

        pack = packs.find(address.partition("?pack=")[2])

        assert pack is not None
        assert pack.total == 1

    @pytest.mark.usefixtures("quick")
    def test_a_poll_gets_the_live_part_alone(self, url, as_instructor, build):
        address = make(as_instructor, url)
        part = as_instructor.get(address, headers={"HX-Request": "true"})
        text = part.content.decode()

        assert text.strip().startswith('<div id="pack"')
        assert "hx-trigger" not in text

    def test_a_poll_goes_on_until_it_is_made(self, url, as_instructor, shop_class):
        name = f"{shop_class.pk}-x"
        packs._SHELF.packs[name] = packs.Pack(total=30, done=12)
        text = as_instructor.get(url, {"pack": name}).content.decode()

        assert "12 of 30 sheets are made." in text
        assert 'hx-trigger="every 1s"' in text

    def test_one_that_failed_says_so(self, url, as_instructor, shop_class):
        name = f"{shop_class.pk}-x"
        packs._SHELF.packs[name] = packs.Pack(total=30, failed=True)

        assert (
            "could not be made"
            in as_instructor.get(url, {"pack": name}).content.decode()
        )

    @pytest.mark.usefixtures("quick")
    def test_a_pack_of_another_class_is_not_given(
        self, url, as_instructor, client_of, other_class, other_instructor, build
    ):
        address = make(as_instructor, url)
        name = address.partition("?pack=")[2]
        theirs = reverse("class-pack", args=[other_class.pk])
        thief = client_of(other_instructor)
        file = thief.get(f"{theirs.replace('/pack/', '/pack.pdf')}?pack={name}")

        assert file.headers["Location"] == theirs
        assert "no longer kept" in thief.get(theirs, {"pack": name}).content.decode()

    @pytest.mark.usefixtures("quick")
    def test_an_assistant_may_make_it(self, url, as_assistant, build):
        assert "?pack=" in make(as_assistant, url)

    @pytest.mark.usefixtures("quick")
    def test_it_takes_few_queries(
        self, url, as_instructor, build, classmate, django_assert_num_queries
    ):
        make(as_instructor, url)
        # session, user, class, builds, readings, marks, machines
        with django_assert_num_queries(7):
            as_instructor.post(url)

    def test_without_pango_the_page_says_so(
        self, url, as_instructor, build, monkeypatch
    ):
        monkeypatch.setattr(pdf, "can_print", lambda: False)
        monkeypatch.setattr("projects.views.class_prints.can_print", lambda: False)
        answered = as_instructor.post(url)

        assert answered.headers["Location"] == url
        assert "lacks pango" in as_instructor.get(url).content.decode()


class TestThePrints:
    def test_a_student_of_the_class_is_listed(self, as_instructor, build, shop_class):
        page = as_instructor.get(reverse("class-prints", args=[shop_class.pk]))
        text = page.content.decode()

        assert build.student.name in text
        assert reverse("safety-record-pdf", args=[build.pk]) in text
        assert reverse("near-miss-pdf", args=[shop_class.pk]) in text

    def test_an_assistant_sees_what_was_given(self, as_assistant, shop_class):
        page = as_assistant.get(reverse("class-prints", args=[shop_class.pk]))
        text = page.content.decode()

        assert reverse("class-pack", args=[shop_class.pk]) in text
        assert "near-misses.pdf" not in text
        assert "roster.pdf" not in text
        assert "posters.pdf" not in text
